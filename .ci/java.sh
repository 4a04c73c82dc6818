# Sourced by the steps that need a JDK and Maven: installs them where that is allowed, or skips the step and says so.
if ! command -v mvn >/dev/null || ! command -v javac >/dev/null; then
    if [ "$(id -u)" -eq 0 ] && command -v apt-get >/dev/null; then
        apt-get update -qq
        DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends maven openjdk-17-jdk-headless >/dev/null
    else
        echo "skipped: needs Maven and a JDK 17; install maven and openjdk-17-jdk-headless, or run this as root"
        exit 77
    fi
fi
