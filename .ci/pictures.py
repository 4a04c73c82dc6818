"""Compares the SVG pictures kept in one folder with those drawn in another: `pictures.py KEPT DRAWN`.

Everything but numbers must be the same; numbers may differ by what another machine rounds differently, in pixels.
"""

import re
import sys
from pathlib import Path

TOLERANCE = 0.2
NUMBER = re.compile(r"-?\d+(?:\.\d+)?")


def difference(kept, drawn):
    """The first line that differs, or nothing."""
    one, other = kept.splitlines(), drawn.splitlines()
    if len(one) != len(other):
        return f"{len(one)} lines are kept, {len(other)} were drawn"
    for number, (a, b) in enumerate(zip(one, other), 1):
        same = NUMBER.sub("0", a) == NUMBER.sub("0", b)
        if not same or any(abs(float(x) - float(y)) > TOLERANCE for x, y in zip(NUMBER.findall(a), NUMBER.findall(b))):
            return f"line {number}:\n  kept   {a}\n  drawn  {b}"
    return None


def main():
    kept, drawn = map(Path, sys.argv[1:])
    pictures = sorted(kept.glob("*.svg"))
    if not pictures:
        sys.exit(f"no picture is kept in {kept}")
    wrong = 0
    for picture in pictures:
        made = drawn / picture.name
        found = difference(picture.read_text(), made.read_text()) if made.exists() else "was not drawn"
        if found:
            wrong += 1
            print(f"{picture.name}: {found}")
    if wrong:
        sys.exit(f"{wrong} of {len(pictures)} differ; where that is meant, copy them from {drawn} to {kept}")
    print(f"{len(pictures)} kept pictures are as drawn")


main()
