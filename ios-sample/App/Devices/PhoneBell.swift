import Foundation
import Presenters
import UserNotifications

/// The phone's own notifications: they come at their time even where the app no longer runs. There is one at most.
final class PhoneBell: NSObject, Bell, UNUserNotificationCenterDelegate, @unchecked Sendable {
    private static let id = "look again"
    private let center = UNUserNotificationCenter.current()
    /// Called when the wearer opens one. Set once, before anything can be opened.
    var opened: (@MainActor (ShellModel.Tab) -> Void)?

    override init() {
        super.init()
        center.delegate = self
    }

    func set(_ reminder: Reminder?) {
        // The same identity: a new one takes the old one's place.
        center.removePendingNotificationRequests(withIdentifiers: [Self.id])
        guard let reminder else { return }
        let content = UNMutableNotificationContent()
        content.body = reminder.text
        content.sound = .default
        content.userInfo = ["night": reminder.opens == .night]
        let seconds = Double(reminder.at.unixMs) / 1000 - Date().timeIntervalSince1970
        let trigger = UNTimeIntervalNotificationTrigger(timeInterval: max(seconds, 1), repeats: false)
        let request = UNNotificationRequest(identifier: Self.id, content: content, trigger: trigger)
        // The first one asks whether it may; refused, the app still tells when it is open.
        center.requestAuthorization(options: [.alert, .sound]) { [center] allowed, _ in if allowed { center.add(request) } }
    }

    /// While the app is shown it looks again by itself.
    func userNotificationCenter(
        _ center: UNUserNotificationCenter, willPresent notification: UNNotification
    ) async -> UNNotificationPresentationOptions { [] }

    func userNotificationCenter(_ center: UNUserNotificationCenter, didReceive response: UNNotificationResponse) async {
        let night = response.notification.request.content.userInfo["night"] as? Bool == true
        await opened?(night ? .night : .now)
    }
}
