import Ebbstead
import Foundation
import Observation
import Presenters

/// The open log and the presenters on it. It passes on what is tapped and typed, away from the drawing thread, and shows what
/// comes back.
@MainActor @Observable
final class ShellModel {
    enum Tab: CaseIterable { case now, night, log, settings }

    private(set) var presenters: [Tab: any Presenter] = [:]
    /// Why the log could not be opened.
    private(set) var failure: String?
    var tab = Tab.now
    private var companion: EbbsteadCompanion?
    /// Answers come in the order of the questions.
    private var work: Task<Void, Never>?

    init() { open() }

    func open() {
        failure = nil
        do {
            let folder = try FileManager.default.url(for: .applicationSupportDirectory, in: .userDomainMask, appropriateFor: nil, create: true)
            let path = folder.appendingPathComponent("log.ebb").path
            let german = Locale.current.language.languageCode == .german
            let companion = try EbbsteadCompanion.open(path: path, language: german ? .german : .english, now: .device)
            // Readable while the phone is locked at night, once it was unlocked after starting.
            try FileManager.default.setAttributes([.protectionKey: FileProtectionType.completeUntilFirstUserAuthentication], ofItemAtPath: path)
            try companion.watch(watcher: Redraw { [weak self] in Task { @MainActor in self?.lookAgain() } })
            self.companion = companion
            presenters = [
                .now: NowPresenter(companion, at: .device), .night: NightPresenter(companion, at: .device),
                .log: LogPresenter(companion, at: .device), .settings: SettingsPresenter(companion),
            ]
            follow(HealthStore())
        } catch {
            failure = advice(error)
        }
    }

    func send(_ action: Action, to tab: Tab) {
        change(tab) { $0.after(action, at: .device) }
    }

    func type(_ text: String, into field: FieldId, of tab: Tab) {
        presenters[tab] = presenters[tab]?.typing(text, into: field)
    }

    func set(_ field: FieldId, toMinute minute: Int, of tab: Tab) {
        presenters[tab] = presenters[tab]?.setting(field, toMinute: minute)
    }

    /// A file the wearer chose.
    func read(_ file: URL) {
        let mayRead = file.startAccessingSecurityScopedResource()
        defer { if mayRead { file.stopAccessingSecurityScopedResource() } }
        guard let bytes = try? Data(contentsOf: file) else { return }
        let name = file.lastPathComponent
        change(.log) { presenter in
            (presenter as? LogPresenter)?.reading(file: name, bytes: bytes, offsets: .ofThisZone, at: .device) ?? presenter
        }
    }

    /// The core has no clock: once a minute is often enough for a prompt that is due.
    func tickWhileShown() async {
        while !Task.isCancelled {
            tick()
            try? await Task.sleep(for: .seconds(60))
        }
    }

    func tick() {
        try? companion?.tick(now: .device)
    }

    private func lookAgain() {
        send(.look, to: .now)
        send(.look, to: .log)
    }

    private func change(_ tab: Tab, _ change: @escaping @Sendable (any Presenter) -> any Presenter) {
        let before = work
        work = Task {
            await before?.value
            guard let presenter = presenters[tab] else { return }
            presenters[tab] = await Task.detached { change(presenter) }.value
        }
    }

    private func follow(_ source: any ReadingSource) {
        guard let companion else { return }
        Task.detached {
            let day = Moment(unixMs: Moment.device.unixMs - 86_400_000, offsetMinutes: 0)
            _ = await Intake(companion, now: { .device }).follow(source, since: day)
        }
    }
}

/// Told by the core that something changed.
private final class Redraw: Watcher, Sendable {
    private let redraw: @Sendable () -> Void

    init(_ redraw: @escaping @Sendable () -> Void) { self.redraw = redraw }

    func logChanged() throws { redraw() }
    func settingsChanged() throws { redraw() }
    func promptDue(due: Due) throws { redraw() }
}

extension Moment {
    /// The device's clock.
    static var device: Moment { Moment(Date()) }

    init(_ date: Date) {
        let offset = TimeZone.current.secondsFromGMT(for: date) / 60
        self.init(unixMs: Int64((date.timeIntervalSince1970 * 1000).rounded()), offsetMinutes: Int32(offset))
    }
}

extension [OffsetChange] {
    /// The device's zone over the past three years and on: the offset before them, and every change since.
    static var ofThisZone: Self {
        let zone = TimeZone.current
        var at = Date(timeIntervalSinceNow: -3 * 366 * 86_400)
        var changes = [OffsetChange(fromUnixMs: 946_684_800_000, offsetMinutes: Int32(zone.secondsFromGMT(for: at) / 60))]
        while let next = zone.nextDaylightSavingTimeTransition(after: at), next < .now.addingTimeInterval(86_400) {
            let offset = Int32(zone.secondsFromGMT(for: next) / 60)
            changes.append(OffsetChange(fromUnixMs: Int64(next.timeIntervalSince1970 * 1000), offsetMinutes: offset))
            at = next
        }
        return changes
    }
}
