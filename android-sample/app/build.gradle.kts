plugins {
    id("com.android.application")
    id("org.jetbrains.kotlin.android")
}

android {
    namespace = "ebbstead.sample"
    compileSdk = 34
    defaultConfig {
        applicationId = "ebbstead.sample"
        minSdk = 33
        targetSdk = 34
        versionCode = 1
        versionName = "0.1.0"
    }
    // The generated bindings are compiled where they are; the libraries are put here by cargo-ndk, see README.md.
    sourceSets["main"].kotlin.srcDir("../../bindings/kotlin/src/main/kotlin")
    sourceSets["main"].jniLibs.srcDir("build/rust")
    // The tests are run by ../checks/pom.xml, without an Android SDK.
    compileOptions {
        sourceCompatibility = JavaVersion.VERSION_17
        targetCompatibility = JavaVersion.VERSION_17
    }
    kotlinOptions { jvmTarget = "17" }
}

dependencies { implementation("net.java.dev.jna:jna:5.17.0@aar") }
