"""Holds the bill of materials that .ci/parts.py wrote against the CycloneDX schema, and its reading of licences against a library's.

    parts_reference.py SBOM

The schema is the one that comes with cyclonedx-python-lib; SPDX expressions are parsed and worked out by license-expression and boolean.py.
"""

import itertools
import json
import sys
import tomllib
from pathlib import Path

from cyclonedx.schema import SchemaVersion
from cyclonedx.validation.json import JsonStrictValidator
from license_expression import get_spdx_licensing

ROOT = Path(__file__).resolve().parent.parent.parent
sys.path.insert(0, str(ROOT / ".ci"))
import parts  # noqa: E402

SPDX = get_spdx_licensing()
# Shapes that no dependency has now.
SHAPES = [
    "MIT",
    "MIT OR Apache-2.0 AND ISC",
    "(MIT OR Apache-2.0) AND ISC",
    "MIT AND (ISC OR Zlib AND BSD-3-Clause)",
    "((MIT))",
    "MIT AND ISC AND Zlib OR Apache-2.0",
]


def by_library(expression, allowed):
    """The expression with each licence replaced by whether it is allowed."""
    parsed = SPDX.parse(expression, validate=True)
    known = {
        symbol: SPDX.TRUE if symbol.render() in allowed or getattr(symbol, "license_symbol", symbol).key in allowed else SPDX.FALSE
        for symbol in SPDX.license_symbols(parsed, decompose=False)
    }
    worked_out = parsed.subs(known, simplify=True)
    assert worked_out in (SPDX.TRUE, SPDX.FALSE), (expression, worked_out)
    return worked_out == SPDX.TRUE


def main():
    text = Path(sys.argv[1]).read_text()
    wrong = JsonStrictValidator(SchemaVersion.V1_5).validate_str(text)
    assert wrong is None, wrong
    bill = json.loads(text)

    locked = {(one["name"], one["version"]): one.get("checksum") for one in tomllib.loads((ROOT / "Cargo.lock").read_text())["package"]}
    assert len(bill["components"]) > 100
    for one in bill["components"]:
        hashes = [found["content"] for found in one.get("hashes", [])]
        checksum = locked[one["name"], one["version"]]
        assert hashes == ([checksum] if checksum else []), one["name"]
    refs = {one["bom-ref"] for one in bill["components"]} | {"ebbstead-project"}
    assert refs == {one["ref"] for one in bill["dependencies"]}
    assert all(refs.issuperset(one["dependsOn"]) for one in bill["dependencies"])

    expressions = sorted({one["licenses"][0]["expression"] for one in bill["components"]})
    asked = 0
    for expression in expressions + SHAPES:
        info = SPDX.validate(expression)
        assert not info.errors, (expression, info.errors)
        names = sorted(set(symbol.key for symbol in SPDX.license_symbols(expression, decompose=True)))
        # Every choice of what is allowed, exceptions granted by none.
        for many in range(len(names) + 1):
            for allowed in itertools.combinations(names, many):
                asked += 1
                assert parts.permitted(expression, set(allowed)) == by_library(expression, set(allowed)), (expression, allowed)
    print(f"{len(bill['components'])} components after the CycloneDX 1.5 schema; {len(expressions)} licence expressions, {asked} questions answered alike")


main()
