import Ebbstead
import Presenters
import SwiftUI

@main
struct SampleApp: App {
    @UIApplicationDelegateAdaptor(Phone.self) private var phone
    @Environment(\.scenePhase) private var phase

    var body: some Scene {
        WindowGroup {
            ShellView(model: phone.model, open: phone.open)
                .task { await phone.model.tickWhileShown() }
                .onChange(of: phase, initial: true) { _, now in phone.model.isShown = now != .background }
        }
    }
}

/// Opens the log as soon as the app is started: by the wearer, by the sensor's radio, or by an answer on a notification.
@MainActor
final class Phone: NSObject, UIApplicationDelegate {
    private let bell = PhoneBell()
    private(set) lazy var model = {
        let model = ShellModel(bell: bell, radio: SensorRadio())
        model.isShown = false
        return model
    }()

    func application(_ application: UIApplication, didFinishLaunchingWithOptions options: [UIApplication.LaunchOptionsKey: Any]? = nil) -> Bool {
        bell.opened = { [model] in model.woken(by: $0) }
        bell.answered = { [model] in await model.answer($0, rangAt: $1) }
        open()
        NotificationCenter.default.addObserver(forName: .NSSystemTimeZoneDidChange, object: nil, queue: .main) { [model] _ in
            MainActor.assumeIsolated { model.zoneChanged() }
        }
        return true
    }

    /// After a start nothing can be read until the phone was unlocked once; health records not while it is locked.
    func applicationProtectedDataDidBecomeAvailable(_ application: UIApplication) { if model.failure != nil { open() } else { model.unlocked() } }

    func open() {
        // Only the languages offered: drafts are not among them.
        let own = Locale.current.language.languageCode?.identifier
        let language = (try? languages())?.map(\.tag).first { $0 == own } ?? "en"
        model.open(at: Self.log(), language: language, sources: [HealthStore()])
    }

    /// It must be readable while the phone is locked, for it rings at night; and a backup would carry it off the phone.
    private static func log() -> String {
        var folder = URL.applicationSupportDirectory
        try? FileManager.default.createDirectory(at: folder, withIntermediateDirectories: true)
        try? FileManager.default.setAttributes([.protectionKey: FileProtectionType.completeUntilFirstUserAuthentication], ofItemAtPath: folder.path)
        var values = URLResourceValues()
        values.isExcludedFromBackup = true
        try? folder.setResourceValues(values)
        return folder.appending(path: "log.ebb").path(percentEncoded: false)
    }
}
