plugins {
    alias(libs.plugins.android) apply false
    alias(libs.plugins.compose) apply false
}
