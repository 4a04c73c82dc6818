import Ebbstead
import Foundation
import Presenters
import SwiftUI
import UniformTypeIdentifiers

/// The screens with a tab, and those that lie over them.
struct ShellView: View {
    @Bindable var model: ShellModel
    let open: @MainActor () -> Void
    /// What a file is being chosen for. There is one dialogue, for SwiftUI heeds only one at a view.
    @State private var wanted = Wanted.readings
    @State private var choosesFile = false

    enum Wanted {
        case readings, otherLog
    }

    var body: some View {
        ZStack {
            tabs.accessibilityHidden(model.over != nil)
            // No sheet: of those only one can be shown at a time, and none over the system's own.
            if let over = model.over {
                screen(over).accessibilityAddTraits(.isModal).accessibilityAction(.escape) { model.lay(nil) }
            }
        }
        .onChange(of: model.over) { choosesFile = false }
        .fileExporter(
            isPresented: isDocumentMade, document: model.presenters[model.tab]?.document.map(FileMade.init), contentTypes: [.data],
            defaultFilename: model.presenters[model.tab]?.document?.name
        ) {
            if case .failure(let error) = $0 { model.send(.documentDone(why: advice(error)), to: model.tab) } else { model.send(.documentDone(isKept: true), to: model.tab) }
        } onCancellation: { model.send(.documentDone(), to: model.tab) }
        // Whatever its name ends in: what a file is, core sees by its bytes.
        .fileImporter(isPresented: $choosesFile, allowedContentTypes: [.item]) { chosen in
            guard case .success(let file) = chosen else { return }
            if wanted == .otherLog { model.look(into: file) } else { model.read(file: file) }
        }
    }

    /// The first start stands in their place until what must not be assumed was asked for; and whom to call, while there is no log.
    @ViewBuilder private var tabs: some View {
        if model.failure != nil || model.presenters[.now] == nil {
            ContentUnavailableView {
                if let failure = model.failure { Text(failure) } else { ProgressView().controlSize(.large) }
            } actions: {
                if model.failure != nil { SwiftUI.Button(model.againName) { open() } }
                SwiftUI.Button(model.helpName) { model.lay(.help) }.controlSize(.large)
            }
        } else if model.isFirst {
            screen(.first)
        } else {
            TabView(selection: $model.tab) {
                ForEach(ShellModel.Tab.bar, id: \.self) { tab in
                    screen(tab).tabItem { SwiftUI.Label(model.presenters[tab]?.screen.title ?? "", systemImage: symbol(tab)) }.tag(tab)
                        .toolbar(model.presenters[tab]?.screen.isForNight == true ? .hidden : .visible, for: .tabBar)
                }
            }
        }
    }

    @ViewBuilder private func screen(_ tab: ShellModel.Tab) -> some View {
        if let presenter = model.presenters[tab] {
            ScreenView(screen: presenter.screen, model: model, tab: tab) { (wanted, choosesFile) = ($0, true) }
        }
    }

    private func symbol(_ tab: ShellModel.Tab) -> String {
        switch tab {
        case .now: "water.waves"
        case .log: "square.and.pencil"
        case .record: "chart.xyaxis.line"
        default: "gearshape"
        }
    }

    private var isDocumentMade: Binding<Bool> {
        Binding(get: { model.presenters[model.tab]?.document != nil }, set: { if !$0 { model.send(.documentDone(), to: model.tab) } })
    }
}

/// A screen's blocks, from top to bottom, and under the thumb what it pins there.
struct ScreenView: View {
    let screen: Screen
    let model: ShellModel
    let tab: ShellModel.Tab
    let choose: (ShellView.Wanted) -> Void
    @Environment(\.colorScheme) private var scheme
    @Environment(\.openURL) private var openURL

    var body: some View {
        let theme = Theme.of(screen, dark: scheme == .dark)
        ScrollView {
            VStack(alignment: .leading, spacing: 14) {
                Text(screen.title).font(.headline).lineLimit(1).minimumScaleFactor(0.5).foregroundStyle(Color(theme.quiet)).accessibilityAddTraits(.isHeader)
                if let draft = model.draft { NoticeView(text: draft) }
                if let warning = model.warning { BlocksView([.notice(warning.text), .button(warning.copies)]) }
                BlocksView(screen.blocks)
            }
            .padding(16)
            .frame(maxWidth: .infinity, alignment: .leading)
        }
        .safeAreaInset(edge: .bottom) { pinned.padding(.horizontal, 16).padding(.vertical, 8).background(Color(theme.paper)) }
        .font(theme == .night ? .title3 : .body)
        .foregroundStyle(Color(theme.text))
        .background(Color(theme.paper))
        .overlay { if tab.takesLong && model.underway[tab]?.isEmpty == false { ProgressView().controlSize(.large) } }
        .preferredColorScheme(theme == .night ? .dark : nil)
        .environment(\.theme, theme)
        .environment(\.send, send)
        .environment(\.enter, { model.type($0, into: $1, of: tab) })
    }

    /// Side by side where there is room for it.
    private var pinned: some View {
        let buttons = ForEach(screen.pinned, id: \.action) { ButtonView(button: $0) }
        return ViewThatFits(in: .horizontal) {
            HStack { buttons }
            // Two in a row: four below each other would hide half the screen.
            LazyVGrid(columns: [GridItem(.adaptive(minimum: 150), spacing: 8)], spacing: 8) { buttons }
        }
    }

    private func send(_ action: Action) {
        switch action {
        case .phone(.readFile): choose(.readings)
        case .press(.chooseOther): choose(.otherLog)
        case .call(let number): if let url = URL(string: "tel:\(number)") { openURL(url) }
        default: model.send(action, to: tab)
        }
    }
}

/// What the core made, for the system's dialogue that keeps a file where the wearer wants it.
struct FileMade: FileDocument {
    static let readableContentTypes: [UTType] = [.data]
    let bytes: Data

    init(_ document: Document) { bytes = document.bytes }
    init(configuration: ReadConfiguration) throws { throw CocoaError(.featureUnsupported) }

    func fileWrapper(configuration: WriteConfiguration) throws -> FileWrapper { FileWrapper(regularFileWithContents: bytes) }
}
