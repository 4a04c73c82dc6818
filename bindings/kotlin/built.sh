# Not a program: what jar.sh and aar.sh begin with. Read it with `.`.

here="$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)"
root="$here/../.."
built="${CARGO_TARGET_DIR:-$root/target}/kotlin"
version="$(sed -n 's/^version = "\(.*\)"$/\1/p' "$root/Cargo.toml" | head -1)"

# Compiles the generated Kotlin into $built/classes. What it prints, if only the colour that it resets, is no part of the answer.
compile() {
    mvn -q -B -f "$here/pom.xml" -Debbstead.build="$built" compile >&2
}

# Lays the licences into a folder; those of what the library is made with where a file of them is named.
licences_into() {
    cp "$root/LICENSE-MIT" "$root/LICENSE-APACHE" ${2:+"$2"} "$1/"
}
