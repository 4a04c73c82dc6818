import Ebbstead
import Foundation
import Presenters
import SwiftUI
import UniformTypeIdentifiers

/// The five screens, and those that lie over them.
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
        if let failure = model.failure {
            ContentUnavailableView { Text(failure) } actions: {
                SwiftUI.Button("OK") { open() }
                SwiftUI.Button(model.helpName) { model.lay(.help) }.controlSize(.large)
            }
            .sheet(isPresented: isOver) { over }
        } else {
            tabs
                .sheet(isPresented: isOver) { over }
                .fileExporter(
                    isPresented: isDocumentMade, document: model.presenters[model.tab]?.document.map(FileMade.init), contentType: .data,
                    defaultFilename: model.presenters[model.tab]?.document?.name
                ) { model.send(.documentDone(isKept: (try? $0.get()) != nil), to: model.tab) } onCancellation: {
                    model.send(.documentDone(isKept: false), to: model.tab)
                }
                // Whatever its name ends in: what a file is, core sees by its bytes.
                .fileImporter(isPresented: $choosesFile, allowedContentTypes: [.item]) { chosen in
                    guard case .success(let file) = chosen else { return }
                    if wanted == .otherLog { model.look(into: file) } else { model.read(file: file) }
                }
        }
    }

    /// The first start stands in their place until what must not be assumed was asked for.
    @ViewBuilder private var tabs: some View {
        if model.isFirst, let presenter = model.presenters[.first] {
            ScreenView(screen: presenter.screen, model: model, tab: .first) { (wanted, choosesFile) = ($0, true) }
        } else {
            TabView(selection: $model.tab) {
                ForEach(ShellModel.Tab.bar, id: \.self) { tab in
                    if let presenter = model.presenters[tab] {
                        ScreenView(screen: presenter.screen, model: model, tab: tab) { (wanted, choosesFile) = ($0, true) }
                            .tabItem { Text(presenter.screen.title) }
                            .tag(tab)
                    }
                }
            }
        }
    }

    private var isOver: Binding<Bool> { Binding(get: { model.over != nil }, set: { if !$0 { model.lay(nil) } }) }

    @ViewBuilder private var over: some View {
        if let tab = model.over, let presenter = model.presenters[tab] {
            ScreenView(screen: presenter.screen, model: model, tab: tab) { _ in }
        }
    }

    private var isDocumentMade: Binding<Bool> {
        Binding(get: { model.presenters[model.tab]?.document != nil }, set: { if !$0 { model.send(.documentDone(isKept: false), to: model.tab) } })
    }
}

/// A screen's blocks, from top to bottom.
struct ScreenView: View {
    let screen: Screen
    let model: ShellModel
    let tab: ShellModel.Tab
    let choose: (ShellView.Wanted) -> Void
    @Environment(\.colorScheme) private var scheme

    var body: some View {
        let theme = Theme.of(screen, dark: scheme == .dark)
        ScrollView {
            VStack(alignment: .leading, spacing: 14) {
                Text(screen.title).font(.headline).lineLimit(1).minimumScaleFactor(0.5).foregroundStyle(Color(theme.quiet)).accessibilityAddTraits(.isHeader)
                if let draft = model.draft { NoticeView(text: draft, theme: theme) }
                if let warning = model.warning {
                    NoticeView(text: warning.text, theme: theme)
                    ButtonView(button: warning.copies, theme: theme, isForNight: screen.isForNight) { model.send($0, to: tab) }
                }
                BlocksView(blocks: screen.blocks, theme: theme, isForNight: screen.isForNight, model: model, tab: tab, choose: choose)
            }
            .padding(16)
            .frame(maxWidth: .infinity, alignment: .leading)
        }
        .safeAreaInset(edge: .bottom) { PinnedView(screen: screen, theme: theme, model: model, tab: tab) }
        .font(screen.isForNight ? .title3 : .body)
        .foregroundStyle(Color(theme.text))
        .background(Color(theme.paper))
        .overlay { if tab.takesLong && model.underway[tab]?.isEmpty == false { ProgressView().controlSize(.large) } }
        .preferredColorScheme(screen.isForNight ? .dark : nil)
        .sheet(isPresented: Binding(get: { screen.sheet != nil }, set: { if !$0 { model.send(.prompt(.leaveMeter), to: tab) } })) {
            ScrollView {
                VStack(alignment: .leading, spacing: 14) {
                    BlocksView(blocks: screen.sheet ?? [], theme: theme, isForNight: screen.isForNight, model: model, tab: tab, choose: choose)
                }
                .padding(16)
            }
            .foregroundStyle(Color(theme.text))
            .presentationBackground(Color(theme.paper))
            .presentationDetents([.medium, .large])
        }
    }
}

/// What a thumb does, side by side where there is room for it.
struct PinnedView: View {
    let screen: Screen
    let theme: Theme
    let model: ShellModel
    let tab: ShellModel.Tab

    var body: some View {
        let buttons = ForEach(screen.pinned, id: \.action) { ButtonView(button: $0, theme: theme, isForNight: screen.isForNight) { model.send($0, to: tab) } }
        ViewThatFits(in: .horizontal) {
            HStack { buttons }
            // Two in a row: four below each other would hide half the screen.
            LazyVGrid(columns: [GridItem(.adaptive(minimum: 150), spacing: 8)], spacing: 8) { buttons }
        }
        .padding(.horizontal, 16).padding(.vertical, 8)
        .background(Color(theme.paper))
    }
}

/// Things on a screen, one below the other.
struct BlocksView: View {
    let blocks: [Block]
    let theme: Theme
    let isForNight: Bool
    let model: ShellModel
    let tab: ShellModel.Tab
    let choose: (ShellView.Wanted) -> Void
    @Environment(\.openURL) private var openURL

    var body: some View { ForEach(Array(blocks.enumerated()), id: \.offset) { _, block in view(block) } }

    @ViewBuilder private func view(_ block: Block) -> some View {
        switch block {
        case .headline(let headline): HeadlineView(headline: headline, theme: theme)
        case .sentence(let text): Prose(text).font(isForNight ? .title : .title3)
        case .text(let text): Prose(text).foregroundStyle(Color(theme.quiet))
        case .said(let text): Prose(text)
        case .fold(let name, let blocks):
            DisclosureGroup {
                VStack(alignment: .leading, spacing: 14) {
                    BlocksView(blocks: blocks, theme: theme, isForNight: isForNight, model: model, tab: tab, choose: choose)
                }
                .padding(.top, 8)
            } label: { Prose(name).font(.headline).frame(minHeight: 44) }
        case .heading(let text): Prose(text).font(.headline).padding(.top, 8).accessibilityAddTraits(.isHeader)
        case .figures(let figures): ForEach(figures, id: \.name) { FigureView(figure: $0, theme: theme) }
        case .notice(let text): NoticeView(text: text, theme: theme)
        case .items(let items): ItemsView(items: items)
        case .chart(let chart): ChartView(chart: chart, theme: theme)
        case .field(let field) where field.takes == .clock: DatePicker(field.name, selection: minute(field), displayedComponents: .hourAndMinute)
        case .field(let field): FieldView(field: field, typed: typed(field))
        case .choice(let choice): ChoiceView(choice: choice) { send($0) }
        case .button(let button): ButtonView(button: button, theme: theme, isForNight: isForNight, send: send)
        case .entry(let row): EntryView(row: row) { send($0) }
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

    private func typed(_ field: FormField) -> Binding<String> {
        Binding(get: { field.value }, set: { model.type($0, into: field.id, of: tab) })
    }

    private func minute(_ field: FormField) -> Binding<Date> {
        let (day, minute) = (Calendar.current.startOfDay(for: .now), field.minuteOfDay)
        let set = { (date: Date) in
            let parts = Calendar.current.dateComponents([.hour, .minute], from: date)
            model.type(clockText((parts.hour ?? 0) * 60 + (parts.minute ?? 0)), into: field.id, of: tab)
        }
        return Binding(
            get: { Calendar.current.date(bySettingHour: minute / 60, minute: minute % 60, second: 0, of: day) ?? day },
            set: set)
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
