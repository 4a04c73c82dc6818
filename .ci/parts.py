"""Of what the project is made: `parts.py FOLDER` writes

- `sbom.cdx.json`, a bill of materials (CycloneDX 1.5): every package, its version, checksum and licence, and what depends on what;
- `licences.txt`, the text of every licence of what is shipped, as most of them ask for,

and fails where a licence is not on the list of deny.toml. Packages come from `cargo metadata`, so nothing is looked up elsewhere.
"""

import hashlib
import json
import re
import subprocess
import sys
import tomllib
import uuid
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
# What a person can hold in their hands; everything else builds or tests it.
SHIPPED = ["ebbstead", "ebbstead-ffi"]
TEXTS = re.compile(r"^(licen[cs]e|copying|notice|unlicense|copyright)", re.IGNORECASE)


def metadata(targets):
    command = ["cargo", "metadata", "--locked", "--format-version", "1", "--all-features"]
    for target in targets:
        command += ["--filter-platform", target]
    return json.loads(subprocess.run(command, cwd=ROOT, check=True, stdout=subprocess.PIPE).stdout)


def expression(package):
    """The SPDX expression of a package; older ones write a stroke for OR."""
    return re.sub(r"\s*/\s*", " OR ", package["license"] or "")


def permitted(text, allowed):
    """Whether one can keep to an SPDX expression with the allowed licences alone (SPDX 2.3, annex D; AND binds tighter than OR)."""
    tokens = re.findall(r"\(|\)|[^\s()]+", text)
    place = 0

    def peek():
        return tokens[place] if place < len(tokens) else None

    def take():
        nonlocal place
        place += 1
        return tokens[place - 1]

    def either():
        found = both()
        while peek() == "OR":
            take()
            found = both() or found
        return found

    def both():
        found = one()
        while peek() == "AND":
            take()
            found = one() and found
        return found

    def one():
        if peek() is None:
            raise ValueError(f"not an SPDX expression: {text!r}")
        if peek() == "(":
            take()
            found = either()
            if peek() != ")":
                raise ValueError(f"not an SPDX expression: {text!r}")
            take()
            return found
        name = take()
        if peek() == "WITH":
            take()
            return f"{name} WITH {take()}" in allowed or name in allowed  # an exception only gives leave
        return name in allowed

    found = either()
    if place != len(tokens):
        raise ValueError(f"not an SPDX expression: {text!r}")
    return found


def reached(targets):
    """Name and version of everything that what is shipped is built on, its macros included; tests and build scripts are not."""
    command = ["cargo", "tree", "--locked", "--edges", "normal", "--prefix", "none", "--format", "{p}"]
    for package in SHIPPED:
        command += ["--package", package]
    for target in targets:
        command += ["--target", target]
    lines = subprocess.run(command, cwd=ROOT, check=True, stdout=subprocess.PIPE, text=True).stdout.splitlines()
    # A line: name v1.2.3 (and where it lies, or that it is a macro).
    return {(name, version.removeprefix("v")) for name, version, *_ in (line.split() for line in lines if line)}


def purl(package):
    return f"pkg:cargo/{package['name']}@{package['version']}"


def component(package, shipped, checksums):
    found = {
        "type": "application" if package["name"] == "ebbstead" else "library",
        "bom-ref": purl(package),
        "name": package["name"],
        "version": package["version"],
        # Not carried by what is shipped: it builds or tests it.
        "scope": "required" if shipped else "excluded",
        "licenses": [{"expression": expression(package)}],
        "purl": purl(package),
    }
    if package["description"]:
        found["description"] = " ".join(package["description"].split())
    if package["repository"]:
        found["externalReferences"] = [{"type": "vcs", "url": package["repository"]}]
    checksum = checksums.get((package["name"], package["version"]))
    if checksum:
        found["hashes"] = [{"alg": "SHA-256", "content": checksum}]
    return found


def bill(packages, nodes, shipped, checksums, version):
    parts = sorted(packages.values(), key=lambda package: (package["name"], package["version"]))
    components = [component(package, (package["name"], package["version"]) in shipped, checksums) for package in parts]
    depends = [
        {"ref": purl(package), "dependsOn": sorted({purl(packages[d["pkg"]]) for d in nodes[package["id"]]["deps"]})}
        for package in parts
    ]
    whole = {"ref": "ebbstead-project", "dependsOn": sorted(purl(p) for p in parts if p["source"] is None)}
    # The same parts give the same number, so that a bill written twice is one.
    number = uuid.uuid5(uuid.NAMESPACE_URL, json.dumps([components, depends], sort_keys=True))
    return {
        "bomFormat": "CycloneDX",
        "specVersion": "1.5",
        "serialNumber": f"urn:uuid:{number}",
        "version": 1,
        "metadata": {
            "component": {
                "type": "application",
                "bom-ref": "ebbstead-project",
                "name": "Ebbstead",
                "version": version,
                "licenses": [{"expression": "MIT OR Apache-2.0"}],
            }
        },
        "components": components,
        "dependencies": [whole] + depends,
    }


def texts(package):
    folder = Path(package["manifest_path"]).parent
    named = [folder / package["license_file"]] if package["license_file"] else []
    found = named + sorted(path for path in folder.iterdir() if path.is_file() and TEXTS.match(path.name))
    return [path.read_text(errors="replace").strip() for path in dict.fromkeys(found) if path.is_file()]


def licences(parts):
    """Every text once, below the packages that bring it; and who brings none says so by its expression alone."""
    bringers, without = {}, []
    for package in parts:
        name = f"{package['name']} {package['version']} ({expression(package)})"
        found = texts(package)
        for text in found:
            bringers.setdefault(hashlib.sha256(" ".join(text.split()).encode()).digest(), (text, []))[1].append(name)
        if not found:
            without.append(name)
    pieces = ["Ebbstead is made with the packages below, whose licences follow. Ebbstead's own are in LICENSE-MIT and LICENSE-APACHE."]
    for text, names in bringers.values():
        pieces.append("\n".join(["=" * 100, *names, "-" * 100, text]))
    if without:
        pieces.append("\n".join(["=" * 100, "These bring no text of their own:", *without]))
    return "\n\n".join(pieces) + "\n", len(bringers), len(without)


def main():
    folder = Path(sys.argv[1])
    rules = tomllib.loads((ROOT / "deny.toml").read_text())
    targets = rules["graph"]["targets"]
    found = metadata(targets)
    nodes = {node["id"]: node for node in found["resolve"]["nodes"]}
    packages = {package["id"]: package for package in found["packages"] if package["id"] in nodes}

    allowed = set(rules["licenses"]["allow"])
    exceptions = {one["crate"]: set(one["allow"]) for one in rules["licenses"]["exceptions"]}
    wrong = [
        f"{package['name']} {package['version']}: {package['license'] or 'no licence is named'}"
        for package in packages.values()
        if not package["license"] or not permitted(expression(package), allowed | exceptions.get(package["name"], set()))
    ]
    if wrong:
        sys.exit("a licence that is not on the list of deny.toml:\n" + "\n".join(sorted(wrong)))

    shipped = reached(targets)
    if not all(any(name == one for name, _ in shipped) for one in [*SHIPPED, "rusqlite"]):
        sys.exit("cargo tree did not list what is shipped")
    locked = tomllib.loads((ROOT / "Cargo.lock").read_text())["package"]
    checksums = {(one["name"], one["version"]): one["checksum"] for one in locked if "checksum" in one}
    version = next(package["version"] for package in packages.values() if package["name"] == SHIPPED[0])

    folder.mkdir(parents=True, exist_ok=True)
    made = bill(packages, nodes, shipped, checksums, version)
    (folder / "sbom.cdx.json").write_text(json.dumps(made, indent=1) + "\n")
    others = [p for p in packages.values() if p["source"] and (p["name"], p["version"]) in shipped]
    others.sort(key=lambda package: (package["name"], package["version"]))
    text, distinct, without = licences(others)
    (folder / "licences.txt").write_text(text)
    print(f"{len(packages)} packages, all with a licence on the list; {len(others)} of others' are shipped: {distinct} texts, {without} without one")


if __name__ == "__main__":
    main()
