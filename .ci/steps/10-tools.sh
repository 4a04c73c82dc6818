# Installs what the later steps need beyond Debian 12 and a Rust toolchain.
set -euo pipefail

for component in fmt clippy; do
    if ! cargo "$component" --version >/dev/null 2>&1; then
        echo "cargo $component is missing; run: rustup component add rustfmt clippy" >&2
        exit 1
    fi
done
rustc --version

missing=()
command -v cc >/dev/null || missing+=(build-essential) # links Rust, and compiles the SQLite that is built in
command -v python3 >/dev/null || missing+=(python3)
python3 -c 'import ensurepip, venv' 2>/dev/null || missing+=(python3-venv)
# All at once, since later steps run beside each other and apt does not. Steps that do without these say what is left out.
{ command -v mvn && command -v javac; } >/dev/null || missing+=(maven openjdk-17-jdk-headless)
[ -d /usr/share/fonts/truetype/roboto/unhinted ] || missing+=(fonts-roboto-unhinted fontconfig) # what the pictures are drawn in
. .ci/steps/swift.sh
swift_is_here || [ -e "$swift_root/.ebbstead-packages" ] || { command -v debootstrap && [ -e "$swift_keys" ]; } >/dev/null || missing+=(debootstrap debian-archive-keyring)
if [ -n "${EBBSTEAD_LONG:-}" ] && [ "$(uname -m)" != aarch64 ]; then
    { command -v qemu-aarch64 && command -v aarch64-linux-gnu-gcc; } >/dev/null || missing+=(qemu-user gcc-aarch64-linux-gnu libc6-dev-arm64-cross)
fi

if [ ${#missing[@]} -eq 0 ]; then
    echo "nothing to install"
elif [ "$(id -u)" -eq 0 ] && command -v apt-get >/dev/null; then
    apt-get update -qq
    DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "${missing[@]}" >/dev/null
    echo "installed: ${missing[*]}"
else
    echo "not root, so not installed: ${missing[*]}; later steps that need them are skipped or fail"
    code=77
fi

# Every package of the lock file, those for phones alone as well: what follows asks Cargo about all of them, without a network.
cargo fetch --locked --quiet || echo "not every package could be fetched; what asks about all of them will fail"
exit "${code:-0}"
