# Swift for the steps after this one: a Debian 13 tree with swiftlang in the cache folder. Nothing outside that folder changes.
#
# Where a Swift 6 is on the path, that one is used and nothing is made.
# after: tools
# waits for the network
set -euo pipefail
. .ci/steps/swift.sh

if swift_is_here; then
    swift --version 2>&1 | head -1
    exit 0
fi
if [ "$(id -u)" -ne 0 ]; then
    echo "no Swift 6 on the path, and not root, so no Debian 13 tree can be made for it: the Swift tests are skipped"
    exit 77
fi
if ! unshare --mount true 2>/dev/null; then
    echo "this machine lets nobody mount anything (a container without CAP_SYS_ADMIN?): the Swift tests are skipped"
    exit 77
fi

mkdir -p "$swift_cache/debs"
# Two runs at once would write into the same tree.
exec 9>"$swift_cache/swift-root.lock"
flock 9

if [ ! -e "$swift_root/etc/debian_version" ]; then
    if ! command -v debootstrap >/dev/null; then
        apt-get update -qq
        DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends debootstrap >/dev/null
    fi
    if [ ! -e "$swift_keys" ]; then
        apt-get update -qq
        DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends debian-archive-keyring >/dev/null
    fi
    # What was downloaded before an interruption is kept; a tree that was not finished is not.
    rm -rf "$swift_root.new"
    debootstrap --variant=minbase --cache-dir="$swift_cache/debs" \
        trixie "$swift_root.new" "${DEBIAN_MIRROR:-http://deb.debian.org/debian}" >"$swift_cache/debootstrap.log" ||
        { tail -5 "$swift_cache/debootstrap.log" >&2; exit 1; }
    mv "$swift_root.new" "$swift_root"
fi

packages="swiftlang swiftlang-dev libstdc++-14-dev"
stamp="$swift_root/.ebbstead-packages"
if [ "$(cat "$stamp" 2>/dev/null)" != "$packages" ]; then
    cp /etc/resolv.conf "$swift_root/etc/resolv.conf"
    # Manuals, locales and the debugger's like are half of it; nobody reads them in there.
    printf '%s\n' 'path-exclude=/usr/share/man/*' 'path-exclude=/usr/share/locale/*' 'path-exclude=/usr/share/doc/*' \
        >"$swift_root/etc/dpkg/dpkg.cfg.d/ebbstead"
    in_swift_root sh -ec "
        export DEBIAN_FRONTEND=noninteractive
        dpkg --configure -a
        apt-get update -qq
        apt-get install -y -qq --no-install-recommends -o Dpkg::Options::=--force-unsafe-io $packages
        apt-get clean" >"$swift_cache/install.log" 2>&1 || { tail -5 "$swift_cache/install.log" >&2; exit 1; }
    echo "$packages" >"$stamp"
fi
in_swift_root swift --version 2>&1 | head -1
du -sh "$swift_root" | cut -f1 | sed 's/$/ in the cache folder/'
