import Ebbstead
import Foundation
#if canImport(Darwin)
import Observation
#endif

/// The open log and the presenters on it. It passes on what is tapped and typed, away from the drawing thread, and shows what
/// comes back.
// Swift 6.0's Observation does not link on Linux (an undefined symbol of its own); nothing but SwiftUI observes.
#if canImport(Darwin)
@Observable
#endif
@MainActor
public final class ShellModel {
    public enum Tab: CaseIterable, Sendable {
        case now, log, record, settings
        /// Over the others, until they are left.
        case before, help
        /// In their place, until what must not be assumed was asked for.
        case first

        /// Those with a place of their own.
        public static let bar: [Self] = [.now, .log, .record, .settings]
        /// Goes through weeks of the log: nothing waits for it but itself.
        public var takesLong: Bool { self == .record }
        fileprivate var row: Row { takesLong ? .long : .screens }
        /// Asks for a prompt. What is answered is kept as shown, so it is asked only while it is shown.
        var prompts: Bool { self == .now }
    }

    /// What waits in line for one another. Whether to ring waits for no screen.
    fileprivate enum Row: CaseIterable { case alerts, screens, long }

    public private(set) var presenters: [Tab: any Presenter] = [.help: HelpPresenter(PhoneState.Values(), language: "en")]
    /// Why the log could not be opened.
    public private(set) var failure: String?
    /// What is wrong with the log, and what to do; asked from the core at opening and whenever something changed.
    public private(set) var damage: String?
    /// A screen over the one of the tab.
    public private(set) var over: Tab?
    /// Nothing was set yet: the first start is shown in place of the tabs.
    public private(set) var isFirst = false
    /// The screen that is shown. It is asked anew when one turns to it.
    public var tab = Tab.now {
        didSet {
            guard tab != oldValue, presenters[tab] != nil else { return }
            hide(oldValue)
            send(tab.prompts ? .prompt(.look) : .refresh, to: tab)
        }
    }

    private let now: @Sendable () -> Moment
    private let bell: (any Bell)?
    private let radio: (any DeviceSource)?
    /// The search for devices, those that are followed, and the other sources.
    private var search: Task<Void, Never>?
    private var followed: [NearbyKind: (nearby: Nearby, task: Task<Void, Never>)] = [:]
    private var read: [Task<Void, Never>] = []
    private var sources: [any ReadingSource] = []
    private var devices = Devices()
    private var ringing: Ringing?
    private var phoneState = PhoneState(log: "")
    private var companion: EbbsteadCompanion?
    private var language = "en"
    /// Answers come in the order of the questions, in each row by itself.
    private var work: [Row: Task<Void, Never>] = [:]
    /// A look waits for its turn; and whether something changed, or only time went by.
    private var (looks, changed) = (false, false)
    /// The same of asking whether to ring.
    private var (asks, asksSoon, names) = (false, false, false)
    /// What is being done on a screen, or waits for its turn.
    public private(set) var underway: [Tab: [Action]] = [:]
    /// What was typed and set, and where, since the work on a screen began.
    private var meanwhile: [Tab: [(field: String, text: String)]] = [:]

    public init(now: @escaping @Sendable () -> Moment = { .device }, bell: (any Bell)? = nil, radio: (any DeviceSource)? = nil) {
        (self.now, self.bell, self.radio) = (now, bell, radio)
    }

    /// Opens the log at a path and follows the sources that were chosen; whatever is sent meanwhile waits for it. After a failure it may be called
    /// again. `passing` is a folder for files on their way; what an app that was ended left there is deleted.
    public func open(at path: String, language: String, sources: [any ReadingSource], passing: URL = .passing) {
        failure = nil
        (self.language, self.sources) = (language, sources)
        phoneState = PhoneState(log: path)
        presenters[.help] = HelpPresenter(phoneState.values, language: language)
        let (now, phoneState, earlier) = (now, phoneState, Array(work.values))
        let redraw = Redraw { [weak self] in Task { @MainActor in self?.lookAgain() } }
        let opening = Task {
            for one in earlier { await one.value }
            // It may have to be migrated, or be waited for.
            let opened = await Task.detached {
                Result {
                    try? FileManager.default.removeItem(at: passing)
                    let companion = try EbbsteadCompanion.open(path: path, language: language, now: now())
                    try companion.watch(watcher: redraw)
                    let presenters: [Tab: any Presenter] = [
                        .now: PromptPresenter(companion, phoneState, at: now()), .log: LogPresenter(companion, at: now()),
                        .record: RecordPresenter(companion, folder: passing), .settings: SettingsPresenter(companion),
                        .before: BeforePresenter(companion), .first: FirstPresenter(companion),
                    ]
                    return (companion, presenters, isFirst: try !companion.settings().areSet(), damage: try companion.damage())
                }
            }.value
            switch opened {
            case .success(let (companion, presenters, isFirst, damage)):
                (self.companion, self.isFirst, self.damage) = (companion, isFirst, damage)
                self.presenters.merge(presenters) { _, new in new }
                ringing = bell.map { Ringing(companion, phoneState: phoneState, bell: $0, now: now) }
                lookAgain()
                for found in phoneState.values.chosen { follow(found) }
                readSources()
                await lookWhetherItMayRing()
            case .failure(let error):
                failure = advice(error)
                // Nothing else would ring, and the app may not be on the screen.
                bell?.say(advice(error))
            }
        }
        for row in Row.allCases { work[row] = opening }
    }

    public func send(_ action: Action, to tab: Tab) {
        switch action {
        case .phone(.findSensor): return findSensor()
        case .chooseSensor(let id): return choose(id)
        case .leaveSource(let id): return leave(id)
        case .tryAlert:
            if let companion { bell?.say(Vocabulary(companion: companion)(.triedAlert)) }
            return
        case .phone(.readHealth):
            phoneState.change { $0.readsHealth = true }
            return readSources()
        case .phone(.allowAlerts):
            Task {
                await bell?.allow()
                await lookWhetherItMayRing()
            }
            return
        case .leave where tab == .first:
            isFirst = false
            return lookAgain()
        case .help, .before: return lay(action == .help ? .help : .before)
        case .leave: return lay(nil)
        case .copies:
            (over, self.tab) = (nil, .record)
            return send(.chapter(.copies), to: .record)
        default: break
        }
        // A second tap is no second wish, unless something was typed between.
        let wishes = action == .refresh || action == .prompt(.look) || meanwhile[tab]?.isEmpty == false
        if !wishes, underway[tab]?.contains(action) == true { return }
        let now = now
        change(tab, by: action) { $0.after(action, at: now()) }
    }

    /// Lays a screen over the others, or takes it away again.
    public func lay(_ screen: Tab?) {
        let before = over
        over = screen
        if before == .before { hide(.before) }
        if screen == .before { send(.refresh, to: .before) }
    }

    private func hide(_ tab: Tab) {
        let now = now
        change(tab) { $0.hidden(at: now()) }
    }

    /// The words for who leads to whom to call, where no screen is there to say it.
    public var helpName: String { presenters[.help]?.screen.title ?? "" }

    /// What opens the log once more.
    public var againName: String { (try? labelWithoutLog(language: phoneState.values.language ?? language, label: .lookNow)) ?? "" }

    /// Where the language is a draft: what it says of itself, above every screen.
    public var draft: String? { try? companion?.words().draft() }

    /// What is said above every screen: that the log is damaged, with the way to a copy of it.
    public var warning: (text: String, copies: Button)? {
        guard let damage, let companion else { return nil }
        return (damage, Button(name: Vocabulary(companion: companion)(.screenCopies), action: .copies))
    }

    /// The core says on the prompt's screen where alerts cannot ring.
    private func lookWhetherItMayRing() async {
        guard let bell, let companion else { return }
        let mayRing = await bell.mayRing()
        try? companion.alerts().setCanRing(canRing: mayRing)
        lookAgain(hasChanged: false)
    }

    /// Typing is shown at once; what it means is asked only when it is sent.
    public func type(_ text: String, into field: String, of tab: Tab) {
        presenters[tab] = presenters[tab]?.typing(text, into: field)
        meanwhile[tab]?.append((field, text))
    }

    /// A file the wearer chose: what came of it, or why it cannot be read, is said on the log's screen, or in the first start.
    public func read(file: URL) {
        let (now, devices) = (now, devices)
        if isFirst, let companion {
            return change(.first) {
                var message = ""
                do { message = try companion.log().bringIn(name: file.lastPathComponent, bytes: file.read(), offsets: .ofThisZone, now: now()) } catch { message = advice(error) }
                return $0.receiving(Received(messages: [message]), devices, at: now())
            }
        }
        tab = .log
        change(.log) { ($0 as? LogPresenter)?.reading(file: file, offsets: .ofThisZone, at: now()) ?? $0 }
    }

    /// Another log, or a sealed copy, that the wearer chose to look into.
    public func look(into file: URL) {
        let now = now
        change(.record, by: .press(.chooseOther)) { ($0 as? RecordPresenter)?.looking(into: file, at: now()) ?? $0 }
    }

    /// Lists what is nearby until one is chosen, or one looks anew.
    private func findSensor() {
        search?.cancel()
        guard let radio, let companion else { return }
        search = Task {
            do {
                for try await found in radio.search() {
                    devices.found(found)
                    show(Received())
                }
            } catch { show(Received(messages: [Vocabulary(companion: companion).why(error)])) }
        }
    }

    private func choose(_ id: String) {
        guard let found = devices.rows.first(where: { $0.device.id == id })?.device else { return }
        search?.cancel()
        phoneState.change { $0.choose(found) }
        follow(found)
    }

    /// Reads a device, or without one the health records, no longer.
    private func leave(_ id: String?) {
        phoneState.change { if let id { $0.leave(id) } else { $0.readsHealth = nil } }
        guard let id else { return readSources() }
        for (kind, one) in followed where one.nearby.found.id == id { followed.removeValue(forKey: kind)?.task.cancel() }
        devices.choose(phoneState.values.chosen)
        show(Received())
    }

    /// Follows a device that was chosen, today or before, in reach or not. It takes the place of one of its kind alone.
    private func follow(_ found: DeviceFound) {
        followed.removeValue(forKey: found.kind)?.task.cancel()
        devices.choose(phoneState.values.chosen)
        show(Received())
        guard let radio, let companion else { return }
        do {
            let nearby = try Nearby(companion, found, offsets: .ofThisZone, now: now)
            let task = Task {
                await nearby.follow(radio) { [weak self] in await self?.received($0, of: found.id) }
                if !Task.isCancelled { followed[found.kind] = nil }
            }
            followed[found.kind] = (nearby, task)
        } catch { show(Received(messages: [advice(error)])) }
    }

    /// The phone's zone is another: a meter's local time means something else from here on.
    public func zoneChanged() { for one in followed.values { one.nearby.change(.ofThisZone) } }

    /// What was locked with the phone can be read: the log, where that is why it could not be opened, is for whoever calls this to open.
    public func unlocked() { readSources() }

    /// Reads the other sources from the newest reading on: at the start, once they are chosen, and whenever the app comes back.
    private func readSources() {
        for task in read { task.cancel() }
        guard let companion else { return }
        devices.readsHealth = phoneState.values.readsHealth == true
        show(Received())
        if !devices.readsHealth { return }
        let intake = Intake(companion, now: now)
        read = sources.map { source in
            Task.detached { [weak self] in
                await intake.follow(source) { [weak self] came in
                    if !Task.isCancelled { await self?.heard(came) }
                    await self?.rung()
                }
            }
        }
    }

    private func heard(_ came: Received) {
        devices.hearsHealth = devices.hearsHealth || came.isFromDevice
        if came.isFromDevice || !came.messages.isEmpty { show(came) }
    }

    private func received(_ received: Received, of id: String) {
        devices.note(received, of: id, at: now())
        if received.unkept > 0 { ask(hasChanged: false) }
        show(received)
    }

    private func show(_ received: Received) {
        let (now, devices) = (now(), devices)
        for tab in [Tab.log, .first] { change(tab) { $0.receiving(received, devices, at: now) } }
    }

    /// The core has no clock: once a minute is often enough for a prompt that is due.
    public func tickWhileShown() async {
        while !Task.isCancelled {
            tick()
            try? await Task.sleep(for: .seconds(60))
        }
    }

    /// Whether the app is on the screen. Off the screen no prompt is asked for, since answers are kept as shown; it still rings.
    public var isShown = true {
        didSet {
            guard isShown != oldValue else { return }
            if isShown {
                bell?.quiet()
                tick()
                lookAgain()
                readSources()
                // Those that ended, as they do while Bluetooth is not allowed.
                for found in phoneState.values.chosen where followed[found.kind] == nil { follow(found) }
                Task { await lookWhetherItMayRing() }
            } else {
                search?.cancel()
                for one in [tab, over].compactMap(\.self) { hide(one) }
                begin()
            }
        }
    }

    /// Whether it is night is for core to decide anew once the app comes to the front, and when a notification is opened.
    private func begin() {
        let now = now
        change(.now) { ($0 as? PromptPresenter)?.anew(at: now()) ?? $0 }
    }

    /// A notification was opened: the prompt, or the field of what was tapped on it.
    public func woken(by answer: RingChoice? = nil) {
        (over, tab) = (nil, .now)
        begin()
        send(.prompt(answer == .checked ? .askMeter : .look), to: .now)
        if answer == .call { lay(.help) }
    }

    /// Notes what was answered to what rang then, with the app on the screen or not. One that it has started opens its log first.
    public func answer(_ answer: RingChoice, rangAt: Moment) async {
        await work[.alerts]?.value
        guard let ringing else {
            if let failure { bell?.say(failure) }
            return
        }
        await Task.detached { ringing.answer(answer, rangAt: rangAt) }.value
    }

    /// Looks for what sends no notice: another program's entries, time gone by. A prompt on the screen is asked anew, since it grows old.
    public func tick() {
        try? companion?.tick(now: now())
        lookAgain(hasChanged: false)
    }

    /// Ends when everything sent so far is answered.
    public func settled() async { for row in Row.allCases { await settled(row) } }

    /// Ends when what came in so far has rung, where it has to.
    private func rung() async { await settled(.alerts) }

    private func settled(_ row: Row) async {
        var last: Task<Void, Never>?
        while work[row] != last {
            last = work[row]
            await last?.value
        }
    }

    /// Whether to ring waits for nothing that is done for a screen, least of all for a large file.
    private func ask(hasChanged: Bool) {
        names = names || hasChanged
        if asks { return }
        asks = true
        let before = work[.alerts]
        work[.alerts] = Task {
            await before?.value
            let (names, ringing) = (names, ringing)
            (asks, self.names) = (false, false)
            let again = await Task.detached {
                if names { ringing?.name() }
                return ringing?.step()
            }.value
            if let again { askSoon(at: again) }
        }
    }

    /// The log could not take all that a device sent, or a step failed: the next one stores it, and rings.
    private func askSoon(at: Moment) {
        if asksSoon { return }
        asksSoon = true
        Task {
            try? await Task.sleep(for: .milliseconds(at.unixMs - now().unixMs))
            asksSoon = false
            ask(hasChanged: false)
        }
    }

    /// Many changes at once are looked at once, and the screen that is shown last.
    private func lookAgain(hasChanged: Bool = true) {
        ask(hasChanged: hasChanged)
        changed = changed || hasChanged
        if looks { return }
        looks = true
        let before = work[.screens]
        work[.screens] = Task {
            await before?.value
            // From here on, what changes is looked at by the next round.
            let (hasChanged, companion, phoneState) = (changed, companion, phoneState)
            (looks, changed) = (false, false)
            damage = await Task.detached {
                if let wearer = try? companion?.settings().wearer() {
                    phoneState.change { ($0.emergency, $0.contact, $0.language) = (wearer.emergencyNumber, wearer.contactNumber, wearer.language) }
                }
                return try? companion?.damage()
            }.value
            presenters[.help] = HelpPresenter(phoneState.values, language: language)
            guard isShown, !isFirst else { return }
            if over == .before { send(.refresh, to: .before) }
            if hasChanged { for tab in Tab.bar where tab != self.tab && !tab.takesLong && !tab.prompts { send(.refresh, to: tab) } }
            if hasChanged || tab.prompts { send(.refresh, to: tab) }
        }
    }

    /// The work is done on the presenter as it was when its turn came. What is typed or set meanwhile is put into the outcome as
    /// well, so that no key is lost.
    private func change(_ tab: Tab, by action: Action? = nil, _ change: @escaping @Sendable (any Presenter) -> any Presenter) {
        let before = work[tab.row]
        if let action { underway[tab, default: []].append(action) }
        work[tab.row] = Task {
            await before?.value
            defer { if let action, let place = underway[tab]?.firstIndex(of: action) { underway[tab]?.remove(at: place) } }
            guard let presenter = presenters[tab] else { return }
            meanwhile[tab] = []
            let done = await Task.detached { change(presenter) }.value
            presenters[tab] = (meanwhile.removeValue(forKey: tab) ?? []).reduce(done) { $0.typing($1.text, into: $1.field) }
        }
    }
}

/// Notified by the core that something changed.
private final class Redraw: Watcher, Sendable {
    private let redraw: @Sendable () -> Void

    init(_ redraw: @escaping @Sendable () -> Void) { self.redraw = redraw }

    func logChanged() throws { redraw() }
    func settingsChanged() throws { redraw() }
    func promptDue(due: Due) throws { redraw() }
}

extension Moment {
    /// The device's clock.
    public static var device: Moment { Moment(Date()) }

    public init(_ date: Date) {
        let offset = TimeZone.current.secondsFromGMT(for: date) / 60
        self.init(unixMs: Int64((date.timeIntervalSince1970 * 1000).rounded()), offsetMinutes: Int32(offset))
    }
}

extension [OffsetChange] {
    /// Those of the device's zone.
    public static var ofThisZone: Self { of(.current, at: Date()) }

    /// A zone's offset at the beginning of 2000, and every change from there to a year ahead: what is opened today is read tomorrow as well.
    public static func of(_ zone: TimeZone, at now: Date) -> Self {
        func change(_ at: Date) -> OffsetChange {
            OffsetChange(fromUnixMs: Int64((at.timeIntervalSince1970 * 1000).rounded()), offsetMinutes: Int32(zone.secondsFromGMT(for: at) / 60))
        }
        var at = Date(timeIntervalSince1970: 946_684_800)
        var changes = [change(at)]
        while let next = zone.nextDaylightSavingTimeTransition(after: at), next < now.addingTimeInterval(366 * 86_400) {
            changes.append(change(next))
            at = next
        }
        return changes
    }
}

extension URL {
    /// Where files on their way lie, and nothing else.
    public static var passing: URL { FileManager.default.temporaryDirectory.appendingPathComponent("passing", isDirectory: true) }

    /// What is in a file that the wearer chose: the app may read it only now.
    func read() throws -> Data { try opened { try Data(contentsOf: $0) } }

    func opened<T>(_ work: (URL) throws -> T) rethrows -> T {
        #if canImport(Darwin)
        let mayRead = startAccessingSecurityScopedResource()
        defer { if mayRead { stopAccessingSecurityScopedResource() } }
        #endif
        return try work(self)
    }
}
