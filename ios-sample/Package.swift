// swift-tools-version: 6.0
import PackageDescription

// Everything of the app that is not a SwiftUI view or a device: it runs on Linux too, and is tested there.
let package = Package(
    name: "Sample",
    platforms: [.iOS(.v17), .macOS(.v14)],
    products: [.library(name: "Presenters", targets: ["Presenters"])],
    dependencies: [.package(path: "../bindings/swift")],
    targets: [
        // What each screen shows, and what a tap or a typed word does.
        .target(name: "Presenters", dependencies: [.product(name: "Ebbstead", package: "swift")]),
        // With an invented wearer's evening, night and four weeks.
        .testTarget(name: "PresentersTests", dependencies: ["Presenters"], exclude: ["Transcripts"]),
    ]
)
