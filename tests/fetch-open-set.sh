#!/usr/bin/env bash
# Fetches open sensor traces from a package registry and lays them out for the evaluation.
#
#   bash tests/fetch-open-set.sh FOLDER
#
# They are the example data inside the source package `iglu-python` of PyPI, fetched with pip; only the data are kept, and
# they stay on your machine. The package is under the GPL version 2; the data are its authors' examples:
#   hall-2018  19 adults with and without diabetes: Hall H, Perelman D, Breschi A, et al., PLoS Biol 2018;16(7):e2005143
#   five       5 adults with type 2 diabetes (so its authors say, from memory)
# Few of these people take insulin and few had lows, so what this shows is mostly the forecast.
set -euo pipefail

if [ $# -ne 1 ]; then
    echo "usage: bash tests/fetch-open-set.sh FOLDER" >&2
    exit 2
fi
folder="$1"
if [ -e "$folder" ] && [ -n "$(ls -A "$folder" 2>/dev/null)" ]; then
    echo "$folder is there and not empty; give a new folder" >&2
    exit 2
fi
if ! python3 -c 'import ensurepip, venv' 2>/dev/null; then
    echo "needs python3 with venv (Debian: apt-get install python3-venv)" >&2
    exit 1
fi

work="$(mktemp -d)"
trap 'rm -rf "$work"' EXIT
python3 -m venv "$work/venv"
cat > "$work/wanted.txt" <<'WANTED'
iglu-python==0.4.3 --hash=sha256:7ece97cd50fbf0eae95572c830908225cbfecc37d2ef4475a8cf02d3462bf4dd
WANTED
echo "fetching the source package iglu-python 0.4.3 with pip (2 MB) ..."
"$work/venv/bin/pip" download --quiet --disable-pip-version-check --no-deps --no-binary :all: \
    --dest "$work" --requirement "$work/wanted.txt"
tar -xzf "$work"/iglu_python-0.4.3.tar.gz -C "$work" --strip-components=3 \
    iglu_python-0.4.3/tests/data/example_data_hall.csv iglu_python-0.4.3/tests/data/example_data_5_subject.csv

mkdir -p "$folder"
python3 - "$work" "$folder" <<'SPLIT'
"""One file a person, with the columns the evaluation reads."""
import csv, pathlib, sys

work, folder = map(pathlib.Path, sys.argv[1:])
for name, source in (("hall-2018", "example_data_hall.csv"), ("five", "example_data_5_subject.csv")):
    people = {}
    with open(work / source, newline="") as table:
        for row in csv.DictReader(table):
            people.setdefault(row["id"], []).append((row["time"], row["gl"]))
    (folder / name).mkdir(parents=True)
    for person, readings in people.items():
        with open(folder / name / (person.replace(" ", "-").lower() + ".csv"), "w", newline="") as out:
            writer = csv.writer(out, lineterminator="\n")
            writer.writerow(("timestamp", "glucose_mgdl"))
            writer.writerows(readings)
    print(f"{folder / name}: {len(people)} people, {sum(map(len, people.values()))} readings")
SPLIT
echo "now: cargo run --release -p ebbstead-tests --bin evaluate -- $folder"
