# Not a step: how the Swift steps find and run Swift. Read it with `.`.

swift_cache="${XDG_CACHE_HOME:-$HOME/.cache}/ebbstead"
swift_root="$swift_cache/swift-root"
swift_keys=/usr/share/keyrings/debian-archive-trixie-automatic.gpg

# Whether a Swift that knows the language's version 6 is on the path.
swift_is_here() {
    command -v swift >/dev/null && swift --version 2>/dev/null | grep -qE 'Swift version ([6-9]|[1-9][0-9])\.'
}

# Runs a command inside the Debian 13 tree, with /proc (without it the compiler does not find its own libraries) and with the
# checkout and the folder for built things at the same paths as outside. The mounts live in a namespace of their own: they go
# when the command ends, however it ends, and never show outside.
in_swift_root() {
    unshare --mount --propagation private bash -euc '
        root="$1" checkout="$2" built="$3"
        shift 3
        mount -t proc proc "$root/proc"
        for folder in "$checkout" "$built"; do
            mkdir -p "$folder" "$root$folder"
            mount --bind "$folder" "$root$folder"
        done
        exec chroot "$root" /usr/bin/env -i HOME=/root LANG=C.UTF-8 PATH=/usr/sbin:/usr/bin:/sbin:/bin \
            CHECKOUT="$checkout" EBBSTEAD_BLESS="${EBBSTEAD_BLESS:-}" "$@"
    ' in_swift_root "$swift_root" "$PWD" "$CARGO_TARGET_DIR" "$@"
}

# Runs a command where Swift is.
with_swift() {
    if swift_is_here; then "$@"; else in_swift_root "$@"; fi
}
