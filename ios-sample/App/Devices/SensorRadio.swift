import CoreBluetooth
import Ebbstead
import Foundation
import Presenters

/// Sensors that speak the Bluetooth SIG's Continuous Glucose Monitoring service, and meters with the Glucose service. It lists those
/// nearby, keeps the connections to those that were chosen, and passes their bytes on; the core decodes them. The system wakes the
/// app for them, and starts it again where it was ended meanwhile.
final class SensorRadio: NSObject, DeviceSource, CBCentralManagerDelegate, CBPeripheralDelegate, @unchecked Sendable {
    private let numbers = nearbyNumbers()
    private var services: [CBUUID] { numbers.services.map(uuid) }
    /// Seconds before a device is connected to again that gave nothing; the system lets an app that it has woken run for about ten.
    private let pause = 5.0

    /// A device that is followed: who listens, and where it is asked for records.
    private struct Followed {
        let events: AsyncThrowingStream<DeviceEvent, any Error>.Continuation
        let round: Int
        var access: CBCharacteristic?
    }

    private let queue = DispatchQueue(label: "sensor radio")
    // Everything below is used on the queue alone.
    private var central: CBCentralManager?
    /// Peripherals without a reference are dropped by the system.
    private var known: [UUID: CBPeripheral] = [:]
    private var found: AsyncThrowingStream<DeviceFound, any Error>.Continuation?
    private var followed: [UUID: Followed] = [:]
    /// An ended search, or the end of following a device, must not end what came after it.
    private var (round, searchRound) = (0, 0)

    func search() -> AsyncThrowingStream<DeviceFound, any Error> {
        let (stream, found) = AsyncThrowingStream<DeviceFound, any Error>.makeStream()
        queue.async { [self] in
            self.found?.finish()
            let round = begin()
            (self.found, searchRound) = (found, round)
            found.onTermination = { [weak self] _ in self?.queue.async { [weak self] in self?.endSearch(round) } }
            scan()
        }
        return stream
    }

    func follow(_ id: String) -> AsyncThrowingStream<DeviceEvent, any Error> {
        let (stream, events) = AsyncThrowingStream<DeviceEvent, any Error>.makeStream()
        guard let id = UUID(uuidString: id) else {
            events.finish()
            return stream
        }
        queue.async { [self] in
            followed[id]?.events.finish()
            let round = begin()
            followed[id] = Followed(events: events, round: round)
            events.onTermination = { [weak self] _ in self?.queue.async { [weak self] in self?.leave(id, round) } }
            connect(id)
        }
        return stream
    }

    func ask(_ bytes: Data, of id: String) {
        queue.async { [self] in
            guard let id = UUID(uuidString: id), let access = followed[id]?.access, let peripheral = access.service?.peripheral else { return }
            peripheral.writeValue(bytes, for: access, type: .withResponse)
        }
    }

    private func begin() -> Int {
        // Not before the wearer chose to: the system asks for permission here.
        if central == nil {
            central = CBCentralManager(delegate: self, queue: queue, options: [CBCentralManagerOptionRestoreIdentifierKey: "sensor radio"])
        }
        round += 1
        return round
    }

    private func scan() {
        switch central?.state {
        case .poweredOn: central?.scanForPeripherals(withServices: services)
        case .poweredOff, .unauthorized, .unsupported: found?.finish(throwing: SourceTrouble(.sensorRefused))
        // Not known yet: it comes back here.
        default: break
        }
    }

    private func endSearch(_ round: Int) {
        guard searchRound == round else { return }
        central?.stopScan()
        found = nil
    }

    /// Connecting has no end of its own: a sensor out of reach is waited for.
    private func connect(_ id: UUID) {
        guard let central, central.state == .poweredOn, followed[id] != nil else { return }
        guard let peripheral = known[id] ?? central.retrievePeripherals(withIdentifiers: [id]).first else { return }
        known[id] = peripheral
        peripheral.delegate = self
        if peripheral.state == .connected { centralManager(central, didConnect: peripheral) } else { central.connect(peripheral) }
    }

    private func leave(_ id: UUID, _ round: Int) {
        guard followed[id]?.round == round else { return }
        followed[id] = nil
        if let peripheral = known[id] { central?.cancelPeripheralConnection(peripheral) }
    }

    /// Comes before all else where the system started the app for the sensor.
    func centralManager(_ central: CBCentralManager, willRestoreState state: [String: Any]) {
        for peripheral in state[CBCentralManagerRestoredStatePeripheralsKey] as? [CBPeripheral] ?? [] {
            known[peripheral.identifier] = peripheral
            peripheral.delegate = self
        }
    }

    func centralManagerDidUpdateState(_ central: CBCentralManager) {
        if found != nil { scan() }
        switch central.state {
        case .poweredOn:
            for id in followed.keys { connect(id) }
        case .unauthorized, .unsupported:
            for one in followed.values { one.events.finish(throwing: SourceTrouble(.sensorRefused)) }
        default:
            // After a reset the system knows none of them any more; they are looked up anew.
            if central.state == .resetting { known = [:] }
            for id in followed.keys { lost(id) }
        }
    }

    func centralManager(_ central: CBCentralManager, didDiscover peripheral: CBPeripheral, advertisementData data: [String: Any], rssi: NSNumber) {
        known[peripheral.identifier] = peripheral
        let id = peripheral.identifier.uuidString
        let name = peripheral.name ?? data[CBAdvertisementDataLocalNameKey] as? String ?? String(id.suffix(4))
        let services = [CBAdvertisementDataServiceUUIDsKey, CBAdvertisementDataOverflowServiceUUIDsKey].flatMap { data[$0] as? [CBUUID] ?? [] }
        found?.yield(DeviceFound(id: id, name: name, services: services.compactMap { UInt16($0.uuidString, radix: 16) }))
    }

    func centralManager(_ central: CBCentralManager, didConnect peripheral: CBPeripheral) {
        followed[peripheral.identifier]?.events.yield(.connected)
        peripheral.discoverServices(services)
    }

    func centralManager(_ central: CBCentralManager, didFailToConnect peripheral: CBPeripheral, error: (any Error)?) {
        // As where the pairing was removed: it would fail again at once, all night.
        lost(peripheral.identifier)
        connectLater(peripheral)
    }

    func centralManager(_ central: CBCentralManager, didDisconnectPeripheral peripheral: CBPeripheral, error: (any Error)?) {
        // Without an error it was this app that hung up.
        if error == nil { return connectLater(peripheral) }
        lost(peripheral.identifier)
        connect(peripheral.identifier)
    }

    private func connectLater(_ peripheral: CBPeripheral) { queue.asyncAfter(deadline: .now() + pause) { [self] in connect(peripheral.identifier) } }

    /// Connected, it would give nothing, as where pairing was refused: it must not be shown as if it did.
    private func failed(_ peripheral: CBPeripheral) {
        lost(peripheral.identifier)
        central?.cancelPeripheralConnection(peripheral)
    }

    private func uuid(_ number: UInt16) -> CBUUID { CBUUID(data: Data([UInt8(number >> 8), UInt8(number & 0xFF)])) }

    private func number(_ one: CBAttribute) -> UInt16? { UInt16(one.uuid.uuidString, radix: 16) }

    private func lost(_ id: UUID) {
        followed[id]?.access = nil
        followed[id]?.events.yield(.lost)
    }

    func peripheral(_ peripheral: CBPeripheral, didModifyServices services: [CBService]) { peripheral.discoverServices(self.services) }

    func peripheral(_ peripheral: CBPeripheral, didDiscoverServices error: (any Error)?) {
        if error != nil { return failed(peripheral) }
        for service in peripheral.services ?? [] {
            peripheral.discoverCharacteristics((numbers.readFirst + numbers.notified + [numbers.recordAccess]).map(uuid), for: service)
        }
    }

    /// In the order the core needs, record access last: Core Bluetooth does them one after the other.
    func peripheral(_ peripheral: CBPeripheral, didDiscoverCharacteristicsFor service: CBService, error: (any Error)?) {
        if error != nil { return failed(peripheral) }
        let found = service.characteristics ?? []
        func those(_ wanted: [UInt16]) -> [CBCharacteristic] { wanted.flatMap { wanted in found.filter { number($0) == wanted } } }
        for one in those(numbers.readFirst) { peripheral.readValue(for: one) }
        for one in those(numbers.notified + [numbers.recordAccess]) { peripheral.setNotifyValue(true, for: one) }
    }

    func peripheral(_ peripheral: CBPeripheral, didUpdateNotificationStateFor characteristic: CBCharacteristic, error: (any Error)?) {
        if error != nil, number(characteristic) != numbers.recordAccess { return failed(peripheral) }
        guard number(characteristic) == numbers.recordAccess, characteristic.isNotifying else { return }
        followed[peripheral.identifier]?.access = characteristic
        followed[peripheral.identifier]?.events.yield(.takesQuestions)
    }

    func peripheral(_ peripheral: CBPeripheral, didUpdateValueFor characteristic: CBCharacteristic, error: (any Error)?) {
        guard let known = number(characteristic) else { return }
        if error != nil { return numbers.readFirst.contains(known) ? failed(peripheral) : () }
        guard let bytes = characteristic.value else { return }
        followed[peripheral.identifier]?.events.yield(.value(DeviceValue(characteristic: known, bytes: bytes)))
    }
}
