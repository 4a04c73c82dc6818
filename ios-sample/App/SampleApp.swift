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
        // A draft is not among those offered: whoever wants it asks for it.
        let own = Locale.current.language.languageCode?.identifier
        let language = (try? languages())?.map(\.tag).first { $0 == own } ?? "en"
        // Files here are readable while the phone is locked at night, once it was unlocked after starting: the system's usual.
        let folder = URL.applicationSupportDirectory
        try? FileManager.default.createDirectory(at: folder, withIntermediateDirectories: true)
        model.open(at: folder.appending(path: "log.ebb").path(percentEncoded: false), language: language, sources: [HealthStore()])
    }
}
