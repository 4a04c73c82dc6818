import Ebbstead
import Presenters
import SwiftUI

@main
struct SampleApp: App {
    @State private var model: ShellModel
    private let bell = PhoneBell()
    @Environment(\.scenePhase) private var phase

    init() {
        let model = ShellModel(bell: bell, radio: SensorRadio())
        bell.opened = { model.tab = $0 }
        _model = State(initialValue: model)
    }

    var body: some Scene {
        WindowGroup {
            ShellView(model: model, open: open)
                .task {
                    open()
                    await model.tickWhileShown()
                }
                .onChange(of: phase) { _, now in if now == .active { model.tick() } }
        }
    }

    private func open() {
        let german = Locale.current.language.languageCode == .german
        // Files here are readable while the phone is locked at night, once it was unlocked after starting: the system's usual.
        let folder = URL.applicationSupportDirectory
        try? FileManager.default.createDirectory(at: folder, withIntermediateDirectories: true)
        model.open(at: folder.appending(path: "log.ebb").path(percentEncoded: false), language: german ? .german : .english, sources: [HealthStore()])
    }
}
