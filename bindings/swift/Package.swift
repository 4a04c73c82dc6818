// swift-tools-version: 6.0
import PackageDescription

// On Apple's systems the library comes as a framework for device and simulator, made by build-framework.sh. Elsewhere it is
// the shared library that cargo builds, found by the linker's search path; see README.md.
#if os(Linux)
let library = Target.systemLibrary(name: "EbbsteadFFI", path: "Sources/EbbsteadFFI/include")
let links: [LinkerSetting] = [.linkedLibrary("ebbstead_ffi")]
#else
let library = Target.binaryTarget(name: "EbbsteadFFI", path: "EbbsteadFFI.xcframework")
let links: [LinkerSetting] = []
#endif

let package = Package(
    name: "Ebbstead",
    platforms: [.iOS(.v17), .macOS(.v14)],
    products: [.library(name: "Ebbstead", targets: ["Ebbstead"])],
    targets: [
        library,
        // The generated file is in the language's version 5, as its generator writes it.
        .target(name: "Ebbstead", dependencies: ["EbbsteadFFI"], swiftSettings: [.swiftLanguageMode(.v5)], linkerSettings: links),
        .testTarget(name: "EbbsteadTests", dependencies: ["Ebbstead"]),
    ]
)
