"""Counts what Maven's test runner reported: a run that found no test is a failure."""

import pathlib
import sys
import xml.etree.ElementTree as tree

total = {"tests": 0, "failures": 0, "errors": 0, "skipped": 0}
for report in pathlib.Path(sys.argv[1]).glob("TEST-*.xml"):
    suite = tree.parse(report).getroot()
    for name in total:
        total[name] += int(suite.get(name, 0))
print(", ".join(f"{count} {name}" for name, count in total.items()))
sys.exit(total["tests"] == 0 or total["failures"] + total["errors"] > 0)
