import Ebbstead
import Foundation
import Invented
import Presenters

// Writes each screen as SVG into a folder: swift run pictures FOLDER

guard CommandLine.arguments.count == 2 else {
    FileHandle.standardError.write(Data("usage: pictures FOLDER\n".utf8))
    exit(2)
}
let folder = URL(fileURLWithPath: CommandLine.arguments[1], isDirectory: true)
let logs = FileManager.default.temporaryDirectory.appendingPathComponent(UUID().uuidString, isDirectory: true)
try FileManager.default.createDirectory(at: folder, withIntermediateDirectories: true)
try FileManager.default.createDirectory(at: logs, withIntermediateDirectories: true)
defer { try? FileManager.default.removeItem(at: logs) }

/// One way of looking at the screens.
struct Look {
    var name: String
    var unit = GlucoseUnit.mgDl
    var language = Language.english
    var dark = false
    var largest = false
}

let looks = [
    Look(name: "light"),
    Look(name: "dark", dark: true),
    Look(name: "mmol", unit: .mmolL),
    Look(name: "german-mmol", unit: .mmolL, language: .german),
    Look(name: "largest", largest: true),
    Look(name: "german-mmol-largest", unit: .mmolL, language: .german, largest: true),
]

for look in looks {
    func path(_ name: String) -> String { logs.appendingPathComponent("\(look.name)-\(name).ebb").path }
    let evening = try Invented.evening(at: path("evening"), unit: look.unit, language: look.language)
    let night = try Invented.night(at: path("night"), unit: look.unit, language: look.language)
    let sheet = Sheet(typeSize: look.largest ? 37 : 12)
    let weeks = try Invented.weeks(at: path("weeks"), unit: look.unit, language: look.language).looking()
    let higher = look.unit == .mgDl ? "220" : "12"
    let record = RecordPresenter(weeks.companion, sheet: sheet, folder: logs).after(.refresh, at: weeks.now)
    let alerts = record.after(.chapter(.alerts), at: weeks.now)
    let tried = alerts.typing(higher, into: .dayHigh).typing(higher, into: .nightHigh)
        .typing("30", into: .highDelay).after(.tryPlan, at: weeks.now)
    let copies = record.after(.chapter(.copies), at: weeks.now)
    // Another phone's log, which has the evening before.
    let other = logs.appendingPathComponent("copy.age")
    _ = try evening.companion.exchange().seal(path: other.path, replace: true, passphrase: "seven quiet herons", now: evening.now)
    let met = copies.typing("seven quiet herons", into: .passphraseOfCopy)
        .looking(into: other, at: weeks.now)
    let woken = NightPresenter(night.companion, at: night.now)
    let asked = woken.after(.checked, at: night.now)
    let log = LogPresenter(evening.companion, at: evening.now)
    let putRight = log.screen.blocks.lazy.compactMap { if case .entry(let row) = $0 { row.putRight?.action } else { nil } }.first
        .map { log.after($0, at: evening.now) } ?? log
    let screens = [
        ("now", NowPresenter(evening.companion, sheet: sheet, at: evening.now).screen),
        ("night", woken.screen),
        ("night-meter", asked.typing("?", into: .meter).after(.keepMeter, at: night.now).screen),
        ("night-rolled", woken.after(.rolledOver, at: night.now).screen),
        ("log", log.screen), ("log-right", putRight.screen),
        ("record-review", record.screen),
        ("record-sensors", record.after(.chapter(.sensors), at: weeks.now).screen),
        ("record-alerts", alerts.screen), ("record-alerts-tried", tried.screen),
        ("record-learnt", record.after(.chapter(.learnt), at: weeks.now).after(.learn, at: weeks.now).screen),
        ("record-answers", record.after(.chapter(.answers), at: weeks.now).screen),
        ("record-supplies", record.after(.chapter(.supplies), at: weeks.now).after(.showStatement, at: weeks.now).screen),
        ("record-copies", copies.screen), ("record-copies-met", met.screen),
        ("settings", SettingsPresenter(evening.companion).screen),
    ]
    let tabs = ["now", "night", "log", "record-review", "settings"].compactMap { name in screens.first { $0.0 == name }?.1.title }
    // The night is dark however the phone is set.
    for (name, screen) in screens where !(look.dark && screen.isForNight) {
        let svg = ScreenSheet.svg(screen, tabs: tabs, dark: look.dark, largest: look.largest)
        try Data(svg.utf8).write(to: folder.appendingPathComponent("\(name)-\(look.name).svg"))
    }
    try evening.companion.closeLog()
    try night.companion.closeLog()
    try weeks.companion.closeLog()
}
print("written to \(folder.path)")
