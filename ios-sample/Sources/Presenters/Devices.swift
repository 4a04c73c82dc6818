import Ebbstead
import Foundation

/// The sensors and meters nearby, each with what became of it.
public struct Devices: Equatable, Sendable {
    public typealias State = SourceState

    struct Row: Equatable, Sendable {
        var device: DeviceFound
        var state: State
        /// When it last said something.
        var received: Moment?
    }

    private(set) var rows: [Row] = []
    /// Those whose readings are taken.
    private(set) var chosen: Set<String> = []
    /// Whether the phone's health records are read, and whether they gave anything: iOS does not say whether reading was allowed.
    var (readsHealth, hearsHealth) = (false, false)

    public init() {}

    mutating func found(_ found: DeviceFound) {
        if let place = rows.firstIndex(where: { $0.device.id == found.id }) {
            rows[place].device = found
        } else {
            rows.append(Row(device: found, state: .found))
        }
    }

    mutating func choose(_ found: [DeviceFound]) {
        for one in found { self.found(one) }
        chosen = Set(found.map(\.id))
        for place in rows.indices where !chosen.contains(rows[place].device.id) { rows[place].state = .found }
    }

    mutating func note(_ received: Received, of id: String, at now: Moment) {
        guard let place = rows.firstIndex(where: { $0.device.id == id }) else { return }
        if let state = received.state { rows[place].state = state } else if received.isFromDevice { rows[place].received = now }
    }

    /// A part of the first start or of the log's screen; below what the phone is asked for, what became of it.
    func blocks(_ part: FirstPart, _ companion: EbbsteadCompanion, _ state: FormState = FormState()) -> [Block] {
        let label = Vocabulary(companion: companion)
        return switch part {
        case .sentence(let text): [.sentence(text)]
        case .text(let text): [.text(text)]
        case .asked(let field): state.blocks(field)
        case .press(let ask, let name):
            switch ask {
            case .findSensor: [.button(Button(name: name, action: .phone(ask)))] + blocks(label)
            case .readHealth where readsHealth: [.text(label.source(name, hearsHealth ? .connected : .silent)), label.button(.leaveSource, .leaveSource(nil))]
            case .allowAlerts: [.button(Button(name: name, action: .phone(ask)))] + label.whenMuted
            default: [.button(Button(name: name, action: .phone(ask)))]
            }
        }
    }

    /// The wearer chooses; nothing is chosen by itself, because a neighbour's sensor may be nearer.
    private func blocks(_ label: Vocabulary) -> [Block] {
        let options = rows.map { row in
            Choice.Option(
                name: label.source(row.device.name, row.state, row.received), action: .chooseSensor(row.device.id), isChosen: chosen.contains(row.device.id))
        }
        let leaves = rows.filter { chosen.contains($0.device.id) }.map { row in
            Block.button(Button(name: "\(row.device.name) · \(label(.leaveSource))", action: .leaveSource(row.device.id)))
        }
        return options.isEmpty ? [] : [.choice(Choice(name: label(.whereFrom), options: options))] + leaves
    }
}

/// A device nearby: how the phone knows it, what it calls itself, and what it is.
public struct DeviceFound: Codable, Equatable, Sendable {
    public var id: String
    public var name: String
    public var kind: NearbyKind

    /// `services` are the Bluetooth SIG's 16-bit numbers of those it offers. One that says none takes no sensor's place.
    public init(id: String, name: String, services: [UInt16]) { self.init(id: id, name: name, kind: nearbyKind(services: services) ?? .meter) }

    init(id: String, name: String, kind: NearbyKind) { (self.id, self.name, self.kind) = (id, name, kind) }
}

/// What a characteristic of a device nearby holds or sent, by the Bluetooth SIG's 16-bit number of it.
public struct DeviceValue: Equatable, Sendable {
    public var characteristic: UInt16
    public var bytes: Data

    public init(characteristic: UInt16, bytes: Data) { (self.characteristic, self.bytes) = (characteristic, bytes) }
}

/// What becomes of a device that is followed.
public enum DeviceEvent: Equatable, Sendable {
    case connected
    /// Out of reach; it is waited for.
    case lost
    case value(DeviceValue)
    /// Everything is read and subscribed to: it can be asked for records.
    case takesQuestions
}

/// A radio that finds sensors and meters and passes on their bytes. What they mean is the core's to say.
public protocol DeviceSource: Sendable {
    /// The devices nearby, as they are found. It ends with the stream.
    func search() -> AsyncThrowingStream<DeviceFound, any Error>
    /// Follows a device, in reach or not, beside others. It ends with the stream.
    func follow(_ id: String) -> AsyncThrowingStream<DeviceEvent, any Error>
    /// Writes to the Record Access Control Point of one that is followed.
    func ask(_ bytes: Data, of id: String)
}

/// What came of a source: a device nearby, or the phone's health records.
public struct Received: Equatable, Sendable {
    /// Entries the log did not have.
    public var kept: UInt64 = 0
    /// Entries that the log could not take yet, and takes later.
    public var unkept: UInt32 = 0
    /// Text to show: what could not be kept, or what the device says about itself.
    public var messages: [String] = []
    /// When the sensor's session began, where it said so.
    public var sessionBegan: Moment?
    /// What became of the device.
    public var state: Devices.State?
    /// Whether a device said something, or values came.
    public var isFromDevice = false
}

/// Takes what a device nearby says into the log; its own name is its name there.
public final class Nearby: Sendable {
    public let found: DeviceFound
    private let companion: EbbsteadCompanion
    private let device: NearbyDevice
    private let now: @Sendable () -> Moment

    public init(_ companion: EbbsteadCompanion, _ found: DeviceFound, offsets: [OffsetChange], now: @escaping @Sendable () -> Moment) throws {
        (self.companion, self.found, self.now) = (companion, found, now)
        device = try companion.exchange().device(source: found.name, offsets: offsets)
    }

    /// What its local times mean from now on.
    public func change(_ offsets: [OffsetChange]) { try? device.setOffsets(offsets: offsets) }

    /// Follows it. A value that the log refuses is passed on with the advice, and the next one is tried. Each time the device comes into reach
    /// it is asked for the records that the log lacks; where the log cannot say which those are, for all of them.
    public func follow(_ source: any DeviceSource, received: @Sendable (Received) async -> Void) async {
        do {
            for try await event in source.follow(found.id) {
                switch event {
                case .connected: await received(Received(state: .connected))
                case .lost: await received(Received(state: .lost))
                case .takesQuestions:
                    if let question = (try? device.recordsSinceNewest()) ?? (try? device.everyRecord()) { source.ask(question, of: found.id) }
                case .value(let value): await received(receive(value))
                }
            }
        } catch { await received(Received(messages: [Vocabulary(companion: companion).why(error)], state: .lost)) }
    }

    private func receive(_ value: DeviceValue) -> Received {
        do {
            let done = try device.receive(characteristic: value.characteristic, value: value.bytes, now: now())
            return Received(
                kept: done.recorded.new, unkept: done.unkept, messages: done.remarks, sessionBegan: done.sessionBegan, isFromDevice: true)
        } catch { return Received(messages: [advice(error)]) }
    }
}
