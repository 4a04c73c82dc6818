import Foundation
import XCTest

/// Xcode is nowhere near where this is checked: its project is read as the property list it is.
final class ProjectTests: XCTestCase {
    private let root = URL(fileURLWithPath: #filePath).deletingLastPathComponent().deletingLastPathComponent().deletingLastPathComponent()

    private func list(_ path: String) throws -> [String: Any] {
        let read = try PropertyListSerialization.propertyList(from: Data(contentsOf: root.appendingPathComponent(path)), format: nil)
        return try XCTUnwrap(read as? [String: Any], path)
    }

    private func objects() throws -> [String: [String: Any]] { try XCTUnwrap(list("Sample.xcodeproj/project.pbxproj")["objects"] as? [String: [String: Any]]) }

    private func strings(_ value: Any) -> [String] {
        switch value {
        case let text as String: [text]
        case let all as [Any]: all.flatMap(strings)
        case let all as [String: Any]: all.values.flatMap(strings)
        default: []
        }
    }

    func testEveryObjectThatIsNamedIsThere() throws {
        let objects = try objects()
        let named = objects.values.flatMap { strings($0) }.filter { $0.hasPrefix("EB") && $0.count == 24 }
        XCTAssertEqual(Set(named).subtracting(objects.keys), [])
        XCTAssertEqual(Set(objects.keys).subtracting(named), [], "named by nobody")
    }

    func testBothTargetsFindTheirFilesAndShareAGroup() throws {
        let objects = try objects()
        let targets = objects.filter { $0.value["isa"] as? String == "PBXNativeTarget" }
        XCTAssertEqual(Set(targets.values.compactMap { $0["name"] as? String }), ["Sample", "Glance"])
        var groups: [[String]] = []
        for settings in objects.values.compactMap({ $0["buildSettings"] as? [String: Any] }) {
            guard let info = settings["INFOPLIST_FILE"] as? String, let rights = settings["CODE_SIGN_ENTITLEMENTS"] as? String else { continue }
            XCTAssertFalse(try list(info).isEmpty)
            groups.append(try XCTUnwrap(list(rights)["com.apple.security.application-groups"] as? [String]))
        }
        XCTAssertEqual(groups.count, 4)
        XCTAssertEqual(Set(groups), [["group.org.example.ebbstead"]])
        for settings in objects.values.compactMap({ $0["buildSettings"] as? [String: Any] }) where settings["INFOPLIST_FILE"] != nil {
            XCTAssertEqual(settings["SWIFT_VERSION"] as? String, "6.0", "what may run at once is checked by the compiler")
            // A pad's app must turn every way.
            XCTAssertEqual(settings["TARGETED_DEVICE_FAMILY"] as? String, "1")
        }
        XCTAssertTrue(try String(contentsOf: root.appendingPathComponent("App/Marks.swift"), encoding: .utf8).contains("\"\(groups[0][0])\""))
        let excepted = objects.values.compactMap { $0["membershipExceptions"] as? [String] }
        for file in excepted.joined() { XCTAssertTrue(FileManager.default.fileExists(atPath: root.appendingPathComponent("App/\(file)").path), file) }
        // Each has its own beginning: the app must not have the widget's.
        XCTAssertEqual(excepted.filter { $0.contains("Widget/GlanceWidget.swift") }.count, 2)
    }

    /// The system asks in the wearer's language, in each that the app says it has.
    func testWhatTheSystemAsksIsSaidInEveryLanguage() throws {
        let info = try list("App/Info.plist")
        let asked = info.filter { $0.key.hasSuffix("UsageDescription") }
        XCTAssertEqual(asked.count, 2)
        let known = try XCTUnwrap(objects().values.compactMap { $0["knownRegions"] as? [String] }.first)
        for language in try XCTUnwrap(info["CFBundleLocalizations"] as? [String]) {
            let said = try list("App/\(language).lproj/InfoPlist.strings")
            XCTAssertEqual(Set(said.keys), Set(asked.keys), language)
            XCTAssertTrue(known.contains(language), language)
            if language == "en" { XCTAssertEqual(said as? [String: String], asked as? [String: String]) }
        }
    }

    /// A file that is not there is a notification without a sound; one of more than 30 seconds is not played.
    func testWhatALoudAlertSoundsIsInTheApp() throws {
        let bell = try String(contentsOf: root.appendingPathComponent("App/Devices/PhoneBell.swift"), encoding: .utf8)
        let name = try XCTUnwrap(bell.components(separatedBy: "UNNotificationSoundName(\"").last?.components(separatedBy: "\"").first)
        let sound = try Data(contentsOf: root.appendingPathComponent("App/\(name)"))
        XCTAssertEqual(String(decoding: sound.prefix(4) + sound[8..<12], as: UTF8.self), "RIFFWAVE")
        let rate = sound[28..<32].reversed().reduce(0) { $0 << 8 | Int($1) }
        XCTAssertTrue((5..<30).contains((sound.count - 44) / rate), "\(sound.count) bytes")
        XCTAssertFalse(bell.contains("defaultRingtone"))
    }

    /// A pairing that was removed fails at once each time.
    func testAConnectionThatFailsIsTriedAgainAfterAPause() throws {
        let radio = try String(contentsOf: root.appendingPathComponent("App/Devices/SensorRadio.swift"), encoding: .utf8)
        let failed = try XCTUnwrap(radio.components(separatedBy: "didFailToConnect").last?.components(separatedBy: "\n    }").first)
        XCTAssertTrue(failed.contains("connectLater(") && !failed.contains(" connect("), failed)
    }

    /// UIKit ends an app whose answer to a notification comes back off the main thread, as it does from an `async` method.
    func testNotificationsAreAnsweredByHandlers() throws {
        let bell = try String(contentsOf: root.appendingPathComponent("App/Devices/PhoneBell.swift"), encoding: .utf8)
        let answers = bell.components(separatedBy: "func userNotificationCenter(").dropFirst().map { $0.components(separatedBy: "{")[0] }
        XCTAssertEqual(answers.count, 2)
        for answer in answers {
            XCTAssertTrue(answer.contains("withCompletionHandler"), answer)
            XCTAssertFalse(answer.contains("async"), answer)
        }
    }

    /// A subscription that failed must not leave a sensor shown as connected: whatever can fail is looked at.
    func testNoErrorOfTheRadioIsPassedOver() throws {
        let radio = try String(contentsOf: root.appendingPathComponent("App/Devices/SensorRadio.swift"), encoding: .utf8)
        let failing = radio.components(separatedBy: "\n    func ").filter { $0.contains("error: (any Error)?) {") && !$0.contains("didFailToConnect") }
        XCTAssertEqual(failing.count, 5)
        for one in failing { XCTAssertTrue(one.components(separatedBy: "error: (any Error)?) {")[1].contains("error"), one) }
    }

    /// What it takes to be woken, to ring at night and to keep the log on the phone.
    func testTheAppMayDoWhatItHasTo() throws {
        let (info, rights) = (try list("App/Info.plist"), try list("App/Sample.entitlements"))
        XCTAssertEqual(info["UIBackgroundModes"] as? [String], ["bluetooth-central"])
        for right in ["com.apple.developer.healthkit", "com.apple.developer.healthkit.background-delivery", "com.apple.developer.usernotifications.time-sensitive"] {
            XCTAssertEqual(rights[right] as? Bool, true, right)
        }
        XCTAssertEqual(rights["com.apple.developer.default-data-protection"] as? String, "NSFileProtectionCompleteUntilFirstUserAuthentication")
        let privacy = try list("App/PrivacyInfo.xcprivacy")
        XCTAssertEqual(privacy["NSPrivacyTracking"] as? Bool, false)
        XCTAssertEqual((privacy["NSPrivacyCollectedDataTypes"] as? [Any])?.count, 0)
    }
}
