// swift-tools-version: 6.0
import PackageDescription

// Everything of the app that is not a SwiftUI view or a device: it runs on Linux too, and is tested there.
let package = Package(
    name: "Sample",
    platforms: [.iOS(.v17), .macOS(.v14)],
    products: [.library(name: "Presenters", targets: ["Presenters", "Invented"])],
    dependencies: [.package(path: "../bindings/swift")],
    targets: [
        // What each screen shows, and what a tap or a typed word does.
        .target(name: "Presenters", dependencies: [.product(name: "Ebbstead", package: "swift")]),
        // An invented wearer's evening, night and four weeks, for previews and tests.
        .target(name: "Invented", dependencies: [.product(name: "Ebbstead", package: "swift")]),
        .testTarget(name: "PresentersTests", dependencies: ["Presenters", "Invented"], exclude: ["Transcripts"]),
    ]
)
