import SwiftUI

@main
struct SampleApp: App {
    @State private var model = ShellModel()
    @Environment(\.scenePhase) private var phase

    var body: some Scene {
        WindowGroup {
            ShellView(model: model)
                .task { await model.tickWhileShown() }
                .onChange(of: phase) { _, now in if now == .active { model.tick() } }
        }
    }
}
