import org.jetbrains.kotlin.gradle.dsl.JvmTarget

plugins {
    alias(libs.plugins.android) // compiles Kotlin by itself since 9.0
    alias(libs.plugins.compose)
}

/** Where the native libraries go: outside `build`, so that `clean` does not take them away. */
val native = layout.projectDirectory.dir("native")

android {
    namespace = "ebbstead.sample"
    compileSdk = 37
    defaultConfig {
        applicationId = "ebbstead.sample"
        minSdk = 33
        targetSdk = 37
        versionCode = 1
        versionName = "0.2.0"
    }
    buildFeatures { compose = true }
    // What is Android's alone lies apart; the generated bindings are compiled where they are.
    sourceSets["main"].kotlin.directories += listOf("src/phone/kotlin", "../../bindings/kotlin/src/main/kotlin")
    sourceSets["main"].jniLibs.directories += native.asFile.path
    // The tests are run by ../checks/pom.xml, without an Android SDK.
    sourceSets["test"].kotlin.directories.clear()
    compileOptions {
        sourceCompatibility = JavaVersion.VERSION_17
        targetCompatibility = JavaVersion.VERSION_17
    }
    packaging { jniLibs.keepDebugSymbols += "**/libebbstead_ffi.so" } // stripped by cargo already
}

kotlin { compilerOptions { jvmTarget = JvmTarget.JVM_17 } }

dependencies {
    implementation(platform(libs.compose.bom))
    implementation(libs.material3)
    implementation(libs.activity.compose)
    implementation(variantOf(libs.jna) { artifactType("aar") })
}

/** The core for phones and for emulators; cargo itself sees what is up to date. Needs cargo-ndk and the NDK. */
val cargoNdk by tasks.registering(Exec::class) {
    workingDir = file("../..")
    commandLine(
        "cargo", "ndk", "-t", "arm64-v8a", "-t", "x86_64", "-o", native.asFile.path,
        "rustc", "--locked", "--profile", "phone", "-p", "ebbstead-ffi", "--lib", "--crate-type", "cdylib",
    )
}
tasks.named("preBuild") { dependsOn(cargoNdk) }
