"""Holds what `--json` prints against the schemas in bindings/terminal/schema, and the schemas against the sources.

    schema_reference.py PROGRAM    PROGRAM: the built `ebbstead`

Every output of every command, over invented logs, has to be valid by `jsonschema`; a property left out, a property more, another code or
another type has to be refused, wherever in an output it stands. Each object of a schema names the Rust type it describes (`$comment`): its
properties, those that may be absent, those that may be null, and the codes of its variants have to be those of the source.
"""

import copy
import csv
import datetime
import functools
import json
import math
import random
import re
import sqlite3
import subprocess
import sys
import tempfile
from collections import Counter
from pathlib import Path

from jsonschema import Draft202012Validator, FormatChecker
from referencing import Registry, Resource

ROOT = Path(__file__).resolve().parent.parent.parent
SCHEMAS = ROOT / "bindings/terminal/schema"
# What the schema is called where it is not the command's own name.
SHARED = {"wake": "check"}
# What every object printed has besides the fields of its type: the version of its form.
VERSION = "schema_version"
# Commands that print an object a line.
BY_LINE = {"log", "replay", "smooth"}
# Enums that shells read most: they have to be among those compared with the sources.
CENTRAL = {"Verdict", "Sentence", "Reason", "Caution", "Matter", "EntryKind"}
# Where the types stand whose fields are taken into another object.
FLATTENED = {
    "Entry": ("core/log/src/log/entry.rs", "Entry"),
    "review::Review": ("core/insights/src/review/mod.rs", "Review"),
    "Reliability": ("core/insights/src/learn/reliability.rs", "Reliability"),
    "Shown": ("core/engine/src/log/shown.rs", "Shown"),
}
# Strings that are no codes: another one is as good.
FREE = {"text", "evidence", "source", "sensor", "site", "lot", "from", "name", "seen", "activity", "concurrent"}
PRIMITIVE = {"f64": "number", "bool": "boolean", "String": "string", "str": "string"} | dict.fromkeys(["u8", "u16", "u32", "u64", "usize"], "integer")
OFFSET = "+01:00"
ZONE = datetime.timezone(datetime.timedelta(hours=1))


# ---- The sources.


def without_comments(text):
    return re.sub(r"//[^\n]*", "", text)


def inside(text, start):
    """What stands between the bracket at `start` and the one that closes it."""
    depth = 0
    for place in range(start, len(text)):
        depth += (text[place] in "{(") - (text[place] in "})")
        if depth == 0:
            return text[start + 1 : place]
    raise AssertionError(f"no end of {text[start:start + 80]!r}")


def parts(text):
    """The parts between commas that stand in no bracket."""
    found, depth, part = [], 0, ""
    for sign in text:
        depth += (sign in "{([<") - (sign in "})]>")
        if sign == "," and depth == 0:
            found.append(part)
            part = ""
        else:
            part += sign
    return [one.strip() for one in [*found, part] if one.strip()]


def attributes(part):
    """The `serde` attributes in front of a field, variant or type, and what follows them."""
    attrs = {}
    while part.startswith("#["):
        end, depth = 1, 1
        while depth:
            end += 1
            depth += (part[end] == "[") - (part[end] == "]")
        if part.startswith("#[serde("):
            for one in parts(part[len("#[serde(") : end - 1]):
                key, _, value = one.partition("=")
                attrs[key.strip()] = value.strip().strip('"') or True
        part = part[end + 1 :].lstrip()
    return attrs, part


def snake(name):
    """A name as serde's `snake_case` writes it."""
    return re.sub(r"(?<!^)(?=[A-Z])", "_", name).lower()


def fields(text):
    """Name, type and attributes of each field, those flattened from another type included."""
    found = []
    for part in parts(text):
        attrs, rest = attributes(part)
        name, _, kind = re.sub(r"^pub(\([^)]*\))?\s+", "", rest).partition(":")
        kind = re.sub(r"&\s*('\w+\s+)?|<'a>", "", kind).strip()
        if "skip" in attrs:
            continue
        if "flatten" in attrs:
            found += source(*FLATTENED[kind])["fields"]
        else:
            found.append((attrs.get("rename", name.strip()), kind, attrs))
    return found


@functools.cache
def source(file, name):
    """A struct or an enum as it stands in a source, without what serde does not write."""
    text = without_comments((ROOT / file).read_text())
    match = re.search(rf"((?:#\[[^\n]*\]\s*)*)(?:pub(?:\([^)]*\))? )?(struct|enum) {name}(?:<[^>]*>)?\s*([{{(])", text)
    assert match, f"{file} has no {name}"
    attrs, _ = attributes(match[1].strip())
    body = inside(text, match.end() - 1)
    if "into" in attrs or "transparent" in attrs:
        return {"kind": "text", **attrs}
    if match[2] == "struct":
        return {"kind": "struct", "fields": fields(body)}
    variants = {}
    for part in parts(body):
        own, rest = attributes(part)
        variant = re.match(r"\w+", rest)[0]
        rest = rest[len(variant) :].strip()
        code = own.get("rename") or (snake(variant) if attrs.get("rename_all") == "snake_case" else variant)
        variants[code] = ("fields", fields(inside(rest, 0))) if rest.startswith("{") else ("of", rest[1:-1]) if rest else ("alone", None)
    return {"kind": "enum", "tag": attrs.get("tag"), "variants": variants}


def hold_type(node, kind, where, nullable=False):
    """A value's schema: null where the source has an option, lists of what it has lists of, and a type of its own by its name."""
    optional = re.fullmatch(r"Option<(.*)>", kind)
    if optional:
        assert not nullable, where
        return hold_type(node, optional[1], where, nullable=True)
    if nullable and "anyOf" in node:
        node, null = node["anyOf"]
        assert null == {"type": "null"}, where
        nullable = False
    measured, pair, many = re.fullmatch(r"Measured<(.*)>", kind), re.fullmatch(r"\((.*)\)", kind), re.fullmatch(r"Vec<(.*)>|\[(.*?)(?:; .*)?\]", kind)
    types = [found for found in ("number", "boolean", "string", "integer", "array") if found in node.get("type", [])]
    assert ("null" in node.get("type", [])) == nullable, f"{where}: null"
    if measured:
        figure, missing = node["oneOf"]
        hold_type(figure, measured[1], where)
        assert missing["$ref"].endswith("/TooLittle"), where
    elif pair:
        assert types == ["array"] and len(node["prefixItems"]) == len(parts(pair[1])), where
        for inner, one in zip(node["prefixItems"], parts(pair[1]), strict=True):
            hold_type(inner, one, where)
    elif many:
        assert types == ["array"], where
        if "; " in kind:
            assert node["minItems"] == node["maxItems"] > 0, where
        hold_type(node["items"], many[1] or many[2], where)
    elif kind in PRIMITIVE:
        assert types == [PRIMITIVE[kind]], f"{where}: {kind}"
    else:
        assert node["$ref"].split("/")[-1] == kind.split("::")[-1], f"{where}: {kind}"
    return None


def hold_fields(node, expected, where, besides=()):
    """The properties of an object: exactly these, each of its type, and absent only where the source leaves it out."""
    names = {name for name, _, _ in expected}
    assert set(node["properties"]) - set(besides) == names, (where, set(node["properties"]) ^ names)
    always = {name for name, _, attrs in expected if "skip_serializing_if" not in attrs} | set(besides)
    assert set(node["required"]) == always, (where, set(node["required"]) ^ always)
    for name, kind, attrs in expected:
        found, here = node["properties"][name], f"{where}.{name}"
        if "skip_serializing_if" in attrs:
            kind = re.fullmatch(r"Option<(.*)>", kind)[1]
        if attrs.get("serialize_with") == "measured::named":
            of, figure = parts(re.search(r"\((.*)\)", kind)[1])
            hold_fields(found["items"], [("of", of, {}), ("figure", figure, {})], here)
        else:
            hold_type(found, kind, here)


def codes(node):
    return {one["const"] for one in node["oneOf"]}


def hold_enum(node, item, where, besides=()):
    """The codes of an enum and what comes with each."""
    tag, variants = item["tag"], item["variants"]
    if tag and "properties" in node:
        assert codes(node["properties"][tag]) == set(variants) and node["required"] == [tag], where
        return
    seen = {}
    for branch in node["oneOf"]:
        if tag:
            code = branch["properties"][tag]["const"]
        else:
            code = branch["const"] if "const" in branch else next(iter(branch["properties"]))
        seen.setdefault(code, []).append(branch)
    assert set(seen) == set(variants), (where, set(seen) ^ set(variants))
    for code, (shape, of) in variants.items():
        branches, here = seen[code], f"{where}.{code}"
        assert all(tag or "const" in branch or branch["required"] == [code] for branch in branches), here
        if shape == "alone":
            (branch,) = branches
            assert set(branch["properties"]) == set(branch["required"]) == {tag} if tag else "const" in branch, here
        elif shape == "fields":
            (branch,) = branches
            hold_fields(branch if tag else branch["properties"][code], of, here, [tag] if tag else [])
        elif tag:
            # A type of its own, whose properties stand beside the tag.
            inner = source(*branches[0]["$comment"].split())
            assert branches[0]["$comment"].split()[1] == re.sub(r"&\s*('\w+\s+)?", "", of), here
            if inner["kind"] == "struct":
                (branch,) = branches
                hold_fields(branch, inner["fields"], here, [tag, *besides])
            else:
                events = {branch["properties"][inner["tag"]]["const"]: branch for branch in branches}
                assert set(events) == set(inner["variants"]), (here, set(events) ^ set(inner["variants"]))
                for event, branch in events.items():
                    hold_fields(branch, inner["variants"][event][1] or [], f"{here}.{event}", [tag, inner["tag"]])
        else:
            (branch,) = branches
            hold_type(branch["properties"][code], of, here)


def hold_to_sources(schemas):
    """Each type that a schema names, as it is in the source. Answers how many."""
    held = set()
    for name, schema in schemas.items():
        for title, node in [(name, schema), *schema.get("$defs", {}).items()]:
            if "$comment" not in node:
                continue
            file, kind = node["$comment"].split()
            assert title in (name, kind), f"{name}: {title} describes {kind}"
            item = source(file, kind)
            besides = [VERSION] if title == name else []
            if kind == "TooLittle":
                # It stands in a figure's place.
                assert node["required"] == ["too_little"], kind
                node = node["properties"]["too_little"]
            if item["kind"] == "struct":
                hold_fields(node, item["fields"], kind, besides)
            elif item["kind"] == "enum":
                hold_enum(node, item, kind, besides)
            else:
                assert node["type"] == PRIMITIVE.get(item.get("into"), "string"), kind
            held.add(kind)
    assert CENTRAL <= held, CENTRAL - held
    version = re.search(r"const SCHEMA_VERSION: u32 = (\d+);", (ROOT / "bindings/terminal/src/screen.rs").read_text())
    assert schemas["common"]["$defs"]["SchemaVersion"]["const"] == int(version[1]), "another version is printed"
    return len(held)


def hold_form(name, node, where="", bare=False):
    """Nothing open, and nothing without a word about it."""
    if isinstance(node, list):
        for one in node:
            hold_form(name, one, where, bare)
    if not isinstance(node, dict):
        return
    if node.get("type") == "object" or "properties" in node:
        assert node["additionalProperties"] is False, f"{name}{where} is open"
        assert set(node["required"]) <= set(node["properties"]), f"{name}{where}"
        for key, found in node["properties"].items():
            assert found.get("description", "").endswith("."), f"{name}{where}.{key} has no description"
    if "prefixItems" in node:
        assert node["items"] is False and node["minItems"] == len(node["prefixItems"]), f"{name}{where}"
    for key, found in node.items():
        if key in ("properties", "$defs"):
            for inner, one in found.items():
                hold_form(name, one, f"{where}.{inner}")
        else:
            hold_form(name, found, where)


# ---- The outputs.


class Checked:
    """Runs the program and holds every output against its command's schema."""

    def __init__(self, program, folder, validators):
        self.program, self.folder, self.validators = program, folder, validators
        self.outputs, self.objects, self.samples = Counter(), Counter(), {}

    def run(self, log, *words, expect=0):
        command = [self.program, "--offset", OFFSET, "--log", str(self.folder / log), *map(str, words)]
        done = subprocess.run(command, capture_output=True, text=True, stdin=subprocess.DEVNULL, env={"HOME": str(self.folder)}, check=False)
        assert done.returncode == expect, (words, done.returncode, done.stderr)
        return done.stdout

    def json(self, log, command, *words, expect=0):
        said = self.run(log, command, *words, "--json", expect=expect)
        found = [json.loads(line) for line in said.splitlines()]
        if expect:
            assert not found, (command, words, said)
            return found
        assert command in BY_LINE or len(found) == 1, (command, words, len(found))
        name = SHARED.get(command, command)
        for one in found:
            wrong = next(self.validators[name].iter_errors(one), None)
            if wrong is not None:
                raise AssertionError(f"{command} {words}: {explained(wrong)}")
        self.outputs[command] += 1
        self.objects[command] += len(found)
        self.samples.setdefault(name, []).extend(found)
        return found


def explained(wrong):
    """The innermost reason, where a choice between shapes failed."""
    while wrong.context:
        wrong = max(wrong.context, key=lambda one: (len(one.absolute_path), one.validator != "const"))
    return f"{wrong.json_path}: {wrong.message[:300]}"


def stamp(moment):
    return moment.astimezone(ZONE).isoformat(timespec="seconds")


def glucose(minute, chance):
    """An invented day: meals, and a low in some nights."""
    hour = minute / 60 % 24
    day = int(minute // 1440)
    meals = sum(90 * math.exp(-(((hour - at) / 1.3) ** 2)) for at in (8.5, 13.5, 19.5))
    night = 65 * math.exp(-(((hour - 3) / 1.0) ** 2)) if day % 3 == 0 else 0
    evening = 130 * math.exp(-(((hour - 21.5) / 1.5) ** 2)) if day % 4 == 1 else 0
    return 105 + meals - night + evening + 6 * math.sin(minute / 37) + chance.gauss(0, 3)


def table(path, begin, days, chance, apart=0.0, step=5):
    """A table of readings, with gaps and with readings beyond what the sensor measures."""
    lines = ["time,glucose mg/dL"]
    for minute in range(0, int(days * 1440), step):
        if minute % 10007 < 300 and minute > 3000:
            continue
        amount = glucose(minute, chance) + apart
        if minute % 2880 in range(500, 515):
            amount -= 60  # pressed, it may be
        word = "LO" if minute % 4000 in range(5) else "HI" if minute % 4300 in range(5) else f"{min(max(amount, 41), 399):.0f}"
        lines.append(f"{stamp(begin + datetime.timedelta(minutes=minute))},{word}")
    path.write_text("\n".join(lines) + "\n")


def fill(checked, log, now):
    """Every kind of entry that `add` takes, over the last days."""
    day = datetime.timedelta(days=1)

    def add(*words, ago):
        checked.run(log, "add", *words, "--at", stamp(now - ago))

    hour = datetime.timedelta(hours=1)
    for back in range(1, 13):
        meal = (now - back * day).replace(hour=8, minute=10)
        add("carbs", 45, ago=now - meal)
        add("insulin", 4, ago=now - meal)
        add("meter", 100 + 5 * back, ago=now - meal - 4 * hour)
        add("carbs", 15, "--rescue", ago=now - meal + 5 * hour)
    for words in [
        ("meter", "LO"), ("meter", "HI"), ("insulin", 14, "--long-acting"), ("alcohol", 2), ("ketones", "1.2"), ("ill",), ("ill", "vomiting"),
        ("ill", "over"), ("activity", "walk", 30, "--effort", "light"), ("activity", "run", 30), ("activity", "weights", 20, "--effort", "hard"),
        ("feels", "low"), ("feels", "high"), ("feels", "nothing"), ("feels", "severe"), ("note", "slept", "badly"),
    ]:  # fmt: skip
        add(*words, ago=2 * day)
    checked.run(log, "add", "sleep", stamp(now - 1.4 * day), stamp(now - 1.1 * day))
    for name, back in [("left", 13), ("right", 8)]:
        add("sensor", "inserted", "--site", f"{name} arm", "--lot", "A12", "--rated-days", 10, "--sensor", name, ago=back * day)
        add("sensor", "warmed-up", "--sensor", name, ago=back * day - hour)
        add("sensor", "fault", "no", "readings", "--sensor", name, ago=(back - 2) * day)
        add("sensor", "rolled-off", "--sensor", name, ago=(back - 3) * day)
    add("sensor", "ended", "--sensor", "left", ago=day / 2)
    for words in [
        ("counted", "sensors", 3), ("received", "sensors", 2, "--expires", "2199-03-01", "--lot", "B7", "--price", "105.50", "EUR", "--from", "post"),
        ("received", "strips", 50, "--price", 20, "CHF"), ("used", "strips", 2), ("thrown-away", "strips", 5), ("counted", "rapid-insulin", 900),
        ("counted", "long-acting-insulin", 300), ("received", "rescue", 200, "--expires", "2026-01-01"), ("received", "transmitters", 1),
        ("counted", "batteries", 0), ("offered", "sensors", 3, "--price", "99", "EUR", "--from", "elsewhere"),
    ]:  # fmt: skip
        add("supply", *words, ago=12 * day)
    # Corrected and taken back.
    mark = checked.json(log, "log", "--days", 20)[-1]["mark"]
    add("note", "a slip", ago=0.2 * day)
    checked.run(log, "undo")
    add("note", "another", ago=0.2 * day)
    mark = next(one["mark"] for one in checked.json(log, "log", "--days", 20) if one["what"].get("text") == "another")
    checked.run(log, "correct", mark, "note", "put right")


def ask_past(checked, log, now):
    """Prompts of the past: what `check` keeps now, at other times and with other words, by way of a table."""
    checked.json(log, "check")
    out = checked.folder / f"{log}.csv"
    checked.run(log, "export", out, "--as", "table")
    with out.open(newline="") as file:
        rows = list(csv.DictReader(file))
    kept = next(row for row in rows if row["kind"] == "prompted")
    entries = []
    for count in range(60):
        at = now - datetime.timedelta(days=10, minutes=-200 * count)
        verdict = ("hold", "treat", "check", "clear", "help")[count % 5]
        matter = ("falling", "rising", "night_wake", "steady", "too_little")[count // 3 % 5]
        details = {"occasion": ("look", "wake")[count % 2], "matter": matter, "verdict": verdict}
        if verdict == "check":
            details["without_meter"] = "hold"
        if count % 3:
            details.update(chance_low=0.25, chance_if_waiting=0.5, chance_if_treating=0.125, blood_mg_dl=80.0, look_again_minutes=15)
        milliseconds = int(at.timestamp() * 1000)
        entries.append({
            **kept, "local time": at.strftime("%Y-%m-%d %H:%M:%S"), "UTC offset": OFFSET, "details": json.dumps(details), "recorded": stamp(at),
            "UTC time": at.astimezone(datetime.UTC).strftime("%Y-%m-%dT%H:%M:%SZ"),
            "id": f"{milliseconds >> 16:08x}-{milliseconds & 0xFFFF:04x}-7000-8000-{count:012x}",
        })  # fmt: skip
    back = checked.folder / "prompts.csv"
    with back.open("w", newline="") as file:
        writer = csv.DictWriter(file, rows[0].keys())
        writer.writeheader()
        writer.writerows(entries)
    checked.run(log, "import", back)
    answer = checked.json(log, "outcomes", "--days", 15)[0]
    assert answer["prompts"] >= 60 and any(answer[kind]["decisions"] for kind in ("held", "told_treat", "told_check")), "no prompts came back"


QUESTIONS = [
    (), ("--feels-low",), ("--feels-high",), ("--feels-fine",), ("--severe",), ("--meter", "LO"), ("--meter", "HI"), ("--meter", "92"),
    ("--unit", "mmol"), ("--lang", "de"),
]  # fmt: skip


def ask(checked, log, moments, ways=QUESTIONS):
    """Every question about now, as of some moments."""
    for count, at in enumerate(moments):
        for way in ways:
            checked.json(log, "check", "--at", at, *way)
        checked.json(log, "wake", "--at", at, *ways[count % len(ways)])
        checked.json(log, "before", "sleep", "--at", at, *(["--feels-low"] if count % 3 == 0 else []))
        checked.json(log, "before", "driving", "--at", at, (20, 90, 400)[count % 3])
        kind, effort = ("endurance", "intervals", "strength")[count % 3], ("light", "moderate", "hard")[count // 2 % 3]
        ketones = ["--ketones", ("0.2", "0.9", "2.0")[count % 3]] if count % 2 else []
        checked.json(log, "before", "activity", kind, 45, "--at", at, "--effort", effort, *ketones)


def level(amount):
    return lambda ago: amount


def falling(to, speed):
    return lambda ago: to + speed * ago if ago < 40 else to + speed * 40


# What the readings were so many minutes ago, over which time, and what was noted, with how many minutes ago: each a night's or a day's trouble.
STORIES = {
    "high and ill": (level(290), [(("ill",), 300), (("ketones", "0.9"), 10)]),
    "raised ketones": (level(270), [(("ketones", "1.9"), 10)]),
    "high ketones, vomiting": (level(280), [(("ill", "vomiting"), 200), (("ketones", "3.4"), 10)]),
    "low with ketones": (level(60), [(("ketones", "3.4"), 10), (("insulin", "3"), 60)]),
    "vomiting on insulin": (falling(105, 0.4), [(("ill", "vomiting"), 60), (("insulin", "6"), 50), (("carbs", "60"), 45)]),
    "insulin that does not lower": (lambda ago: 300 - ago / 10, [(("insulin", "8"), 150)]),
    "a slip of the finger": (level(140), [(("insulin", "60"), 20)]),
    "the same number": (lambda ago: 112, []),
    "three times sugar": (level(55), [(("carbs", "15", "--rescue"), 62), (("carbs", "15", "--rescue"), 40), (("carbs", "15", "--rescue"), 18)]),
    "a low meter": (falling(82, 0.3), [(("meter", "62"), 25)]),
    "far apart": (level(150), [(("meter", "88"), 12)]),
    "ended": (level(120), [(("sensor", "ended"), 30)]),
    "falling fast": (falling(118, 3.6), [(("insulin", "5"), 55)]),
    "falling slower": (falling(95, 1.4), [(("activity", "run", "40", "--effort", "hard"), 60)]),
    "near the line": (falling(78, 0.6), []),
    "rising from a low": (lambda ago: 68 + (ago - 15) if ago > 15 else 68 - 0.2 * ago, []),
    "just low": (lambda ago: 64 if 10 < ago < 25 else 74, []),
    "a jump": (lambda ago: 60 if 9 < ago < 11 else 125, []),
    "a new sensor": (lambda ago: 90 + 25 * math.sin(ago), [(("sensor", "inserted", "--site", "arm"), 200), (("sensor", "warmed-up"), 130)]),
    "pressed, rolled off": (lambda ago: 52 if ago < 20 else 118, [(("sensor", "rolled-off"), 4)]),
    "pressed for long": (lambda ago: 55 if ago < 45 else 118, [(("sensor", "rolled-off"), 35)]),
    "after wine": (falling(112, 0.2), [(("alcohol", "4"), 180), (("sleep", "{60}", "{20}"), 20)]),
    "sugar at work": (lambda ago: 75 - abs(ago - 15) / 5, [(("carbs", "15", "--rescue"), 12)]),
    "a meal arriving": (lambda ago: 190 - ago if ago < 60 else 130, [(("carbs", "60"), 45), (("insulin", "6"), 45)]),
    "high, quiet": (level(205), [(("insulin", "4"), 60)]),
    "very high": (level(395), []),
    "no readings for long": (lambda ago: 100 if ago > 35 else None, []),
}


def play_stories(checked, now):
    """Troubles of one evening each, so that codes come that a quiet record does not have."""
    for name, (reading, noted) in STORIES.items():
        log = name.replace(" ", "-").replace(",", "")
        file = checked.folder / f"{log}.csv"
        chance = random.Random(3)
        lines = ["time,glucose mg/dL"]
        for ago in range(840, -1, -5):
            amount = reading(ago)
            if amount is not None:
                jitter = 0 if name == "the same number" and ago < 300 else chance.choice((-1, 0, 0, 1))
                lines.append(f"{stamp(now - datetime.timedelta(minutes=ago))},{amount + jitter:.0f}")
        file.write_text("\n".join(lines) + "\n")
        checked.run(log, "import", file)
        checked.run(log, "settings", "country", "GB")
        for words, ago in noted:
            words = [stamp(now - datetime.timedelta(minutes=int(word[1:-1]))) if word.startswith("{") else word for word in words]
            # Sleep has its own times.
            at = () if words[0] == "sleep" else ("--at", stamp(now - datetime.timedelta(minutes=ago)))
            checked.run(log, "add", *words, *at)
        at = stamp(now + datetime.timedelta(seconds=1))
        checked.json(log, "check", "--at", at)
        checked.json(log, "wake", "--at", at, "--unit", "mmol", "--lang", "de")
        checked.json(log, "before", "sleep", "--at", at)
        checked.json(log, "before", "driving", 60, "--at", at)
        checked.json(log, "before", "activity", "endurance", 45, "--at", at)
        checked.json(log, "before", "activity", "strength", 45, "--at", at, "--ketones", "0.8")


def follow_habits(checked, now):
    """Weeks with habits: highs after dinner and all through Mondays, lows before dawn, insulin long after a high is shown, a sensor that reads low."""
    chance = random.Random(11)
    begin = (now - datetime.timedelta(days=36)).replace(hour=0, minute=0, second=0)

    def reading(at):
        hour, monday = at.hour + at.minute / 60, at.weekday() == 0
        high = 150 * math.exp(-(((hour - 20.2) / 0.8) ** 2)) + 130 * math.exp(-(((hour - 15) / 0.7) ** 2))
        low = 52 * math.exp(-(((hour - 3) / 0.9) ** 2)) if at.day % 2 else 0
        spike = 80 if at.hour in (8, 11, 13) and at.minute < 10 else 0
        calm = now - at < datetime.timedelta(hours=8)
        return 115 if calm else 112 + high + spike - low + (80 if monday and 6 < hour < 20 else 0) + chance.gauss(0, 3)

    moments = [begin + datetime.timedelta(minutes=minute) for minute in range(0, int((now - begin).total_seconds() // 60), 5)]
    file = checked.folder / "habits.csv"
    file.write_text("time,glucose mg/dL\n" + "".join(f"{stamp(at)},{reading(at):.0f}\n" for at in moments))
    checked.run("habits", "import", file)
    for day in range(35):
        habits = [(19, 0, ("carbs", 60)), (15, 10, ("insulin", 3)), (19, 45, ("insulin", 4)), (3, 10, ("carbs", 15, "--rescue")), (17, 0, ("activity", "run", 40))]
        for hour, minute, words in habits[: 5 if day % 2 else 3]:
            at = begin + datetime.timedelta(days=day, hours=hour, minutes=minute)
            if now - at > datetime.timedelta(hours=9):
                checked.run("habits", "add", *words, "--at", stamp(at))
    for day in (34, 24, 14, 5):
        checked.run("habits", "add", "sensor", "inserted", "--site", "arm", "--at", stamp(now - datetime.timedelta(days=day)))
    for ago in (300, 200, 100):
        checked.run("habits", "add", "meter", 160, "--at", stamp(now - datetime.timedelta(minutes=ago)))
    worth = checked.json("habits", "sensor")[0]["calibration"]
    checked.run("habits", "add", "carbs", 10, "--at", stamp(now - datetime.timedelta(minutes=5)))
    not_now = checked.json("habits", "sensor", "--rated-days", 3)[0]["calibration"]
    assert worth["code"] == "worth" and {"overdue", "recent_carbohydrate"} <= set(not_now["why"]), (worth, not_now)
    answer = checked.json("habits", "alerts", "--days", 35)[0]
    assert answer["proposal"] and answer["delay_proposal"], f"not proposed: {[name for name in ('proposal', 'delay_proposal') if not answer[name]]}"
    assert checked.json("habits", "review", "--days", 35)[0]["patterns"]["found"], "no pattern was found"
    checked.json("habits", "learn")
    checked.json("habits", "reliability")


def look_back(checked, log, until, days):
    """Everything that is shown of the past."""
    for unit in ("mg", "mmol"):
        for aims in ("adult", "older", "pregnancy"):
            checked.json(log, "review", "--until", until, "--days", days, "--aims", aims, "--unit", unit)
    checked.json(log, "review", "--until", until, "--days", days, "--without-compression-lows", "--lang", "de")
    checked.json(log, "alerts", "--until", until, "--days", days)
    plan = ["--low", 80, "--high", 200, "--night-high", "never", "--delay", 30, "--repeat", 20, "--falling", 2, "--rising", 2.5]
    checked.json(log, "alerts", "--until", until, "--days", days, *plan)
    checked.json(log, "outcomes", "--until", until, "--days", days)
    checked.json(log, "sensor", "--days", 3660)
    checked.json(log, "sensor", "--rated-days", 14, "--lang", "de")
    checked.json(log, "supplies")
    checked.json(log, "supplies", "--days", 3000, "--lead-days", 7)
    checked.json(log, "smooth", "--until", until, "--hours", 48)
    checked.json(log, "smooth", "--until", until, "--hours", 6, "--unit", "mmol")
    checked.json(log, "log", "--until", until, "--days", days, "--all", "--readings")
    checked.json(log, "log", "--until", until, "--days", days, "--lang", "de")


def go_through(checked):
    """Files gone through row by row."""
    events = checked.folder / "events.csv"
    chance = random.Random(7)
    rows = ["timestamp,glucose_mgdl,meter_mgdl,bolus_u,basal_u_per_h,carb_g,rescue_g"]
    for count in range(400):
        at = datetime.datetime(2026, 3, 1, tzinfo=ZONE) + datetime.timedelta(minutes=5 * count)
        amount = "LO" if count % 97 == 60 else "HI" if count % 97 == 80 else "" if count % 31 == 30 else f"{glucose(5 * count, chance):.0f}"
        meter = "92" if count % 60 == 20 else "LO" if count == 200 else ""
        cells = ["4" if count % 96 == 90 else "", "0.8", "45" if count % 96 == 92 else "", "15" if count % 70 == 5 else ""]
        rows.append(",".join([stamp(at), amount, meter, *cells]))
    noon = "2026-03-02T12:00:00+01:00"
    rows += [f"{row},,,,," for row in ("no time,100", f"{noon},9000", f"{noon},5.5", f"{noon},high up", "2500-01-01T00:00:00Z,100")]
    events.write_text("\n".join(rows) + "\n")
    readings = checked.folder / "some.csv"
    table(readings, datetime.datetime(2026, 3, 1, tzinfo=ZONE), 1, chance)
    with readings.open("a") as file:
        file.writelines(f"{row}\n" for row in ("nothing,100", ",100", f"{noon},9000", f"{noon},what", noon, f"{noon},1,2,3", "2500-01-01T00:00:00Z,100"))
    mmol = checked.folder / "mmol.csv"
    lines = [f"2026-03-01T{k // 12:02}:{k % 12 * 5:02}:00+01:00,{5 + 2 * math.sin(k / 9):.1f}\n" for k in range(200)]
    mmol.write_text("time,glucose mmol/L\n" + "".join(lines))
    bare = checked.folder / "none.csv"
    bare.write_text("timestamp,glucose_mgdl\n")
    checked.json("unused", "replay", bare, expect=65)
    tables = [events, readings, mmol, *sorted((ROOT / "tests/fixtures").glob("*.csv")), ROOT / "tests/goldens/day.csv"]
    for file in tables:
        assert checked.json("unused", "replay", file), file
    checked.json("unused", "replay", events, "--insulin-factor", 40, "--carbs-factor", 3, "--lang", "de", "--unit", "mmol")


def run_all(checked):
    now = datetime.datetime.now(ZONE).replace(microsecond=0)
    day = datetime.timedelta(days=1)
    chance = random.Random(20)

    # Nothing in the log, nothing learnt.
    assert checked.json("empty", "log") == checked.json("empty", "smooth") == []
    checked.json("empty", "reliability", expect=66)
    checked.json("empty", "learn", "--last", expect=66)
    look_back(checked, "empty", stamp(now), 30)
    ask(checked, "empty", [stamp(now)] * 2)
    checked.json("empty", "learn")
    checked.json("empty", "learn", "--last")
    checked.json("empty", "reliability")
    checked.json("empty", "outcomes")

    # Two sensors, every kind of entry, settings.
    for name, begin, days, apart in [("left", now - 14 * day, 13, 0.0), ("right", now - 8 * day, 7.99, 12.0)]:
        file = checked.folder / f"{name}.csv"
        table(file, begin, days, chance, apart)
        checked.run("full", "import", file, "--sensor", name)
    fill(checked, "full", now)
    ask_past(checked, "full", now)
    look_back(checked, "full", stamp(now), 14)
    moments = [stamp(now - hours * datetime.timedelta(hours=1)) for hours in (0.1, 2, 5, 11, 17, 23, 30, 41, 45, 47.9, 100, 290)]
    ask(checked, "full", moments, QUESTIONS[::3])
    checked.json("full", "learn")
    checked.json("full", "learn", "--last", "--lang", "de")
    checked.json("full", "reliability", "--unit", "mmol")
    for setting in [
        ("unit", "mmol"), ("language", "de"), ("low-line", "4.2"), ("high-line", "9"), ("caution", "early"), ("feels-lows", "no"), ("alone", "yes"),
        ("insulin-factor", "2.5"), ("carbs-factor", "0.2"), ("followed-sensor", "right"), ("country", "GB"), ("morning", "06:30"),
        ("sensor-days", "10"), ("lead-days", "14"), ("night", "22:00", "06:00"),
    ]:  # fmt: skip
        checked.run("full", "settings", *setting)
    checked.json("full", "review")
    checked.json("full", "sensor")
    checked.json("full", "supplies")
    checked.json("full", "alerts")
    ask(checked, "full", moments[::2], QUESTIONS[::4])
    checked.json("full", "check", "--meter", "4.0", "--feels-low")
    checked.json("full", "wake", "--no-record", "--severe")

    # The demo's evening and night.
    checked.run("demo", "demo")
    begin = datetime.datetime(2026, 3, 13, 19, tzinfo=ZONE)
    ask(checked, "demo", [stamp(begin + datetime.timedelta(minutes=95 * count)) for count in range(24)], QUESTIONS[:5])
    exact = ["2026-03-14T20:50:00+01:00", "2026-03-14T22:05:00+01:00", "2026-03-14T22:20:00+01:00", "2026-03-15T03:05:00+01:00", "2026-03-15T03:10:00+01:00"]
    ask(checked, "demo", exact)
    look_back(checked, "demo", "2026-03-15T09:00:00+01:00", 3)

    # Logs of every layout, with all kinds of entries, corrections, retractions and imports.
    kinds = set()
    for frozen in sorted((ROOT / "core/log/tests/fixtures").glob("log-v*.sql")):
        with sqlite3.connect(checked.folder / frozen.stem) as log:
            log.executescript(frozen.read_text())
        log.close()
        look_back(checked, frozen.stem, "2026-03-02T12:00:00+01:00", 10)
        found = checked.json(frozen.stem, "log", "--until", "2026-03-02T12:00:00+01:00", "--days", 10, "--all")
        kinds |= {one["what"]["kind"] for one in found}
        checked.json(frozen.stem, "learn")
    expected = set(source("core/log/src/log/entry.rs", "EntryKind")["variants"])
    kinds |= {one["what"]["kind"] for one in checked.samples["log"]}
    assert kinds == expected, f"no entry of {expected - kinds}"

    play_stories(checked, now)
    follow_habits(checked, now)
    go_through(checked)


# ---- What has to be refused.


def places(value, path=()):
    """Every place in a value, from the outside in."""
    yield path, value
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from places(inner, (*path, key))
    if isinstance(value, list):
        for place, inner in enumerate(value):
            yield from places(inner, (*path, place))


def changed(value, path, change):
    """A copy of a value with a change where a path leads."""
    new = copy.deepcopy(value)
    if not path:
        return change(new)
    inner = new
    for step in path[:-1]:
        inner = inner[step]
    inner[path[-1]] = change(inner[path[-1]])
    return new


def wrong_ones(value):
    """Changed copies, each with what was changed: by a property, a code, a type."""
    for path, there in places(value):
        if isinstance(there, dict):
            yield path, ("more",), lambda one: {**one, "not_in_it": 1}
            for name in there:
                yield path, ("less", name), lambda one, name=name: {other: found for other, found in one.items() if other != name}
        elif isinstance(there, bool):
            yield path, ("type",), lambda _: 1
        elif isinstance(there, str):
            yield path, ("type",), lambda _: 1
            if FREE.isdisjoint(step for step in path if isinstance(step, str)) or re.match(r"\d{4}-\d\d-\d\dT", there):
                yield path, ("code",), lambda _: "no_such_code"
        elif isinstance(there, int | float):
            yield path, ("type",), lambda _: "1"
        elif there is None:
            yield path, ("type",), lambda _: True
        elif isinstance(there, list):
            yield path, ("type",), lambda _: {}


def shape(path, value):
    """Where a path leads, whatever the place in a list; with the codes on the way, since each brings its own properties."""
    steps, inner = [], value
    for step in path:
        if isinstance(inner, dict):
            steps += [inner[tag] for tag in ("code", "kind", "event", "before") if isinstance(inner.get(tag), str)]
        steps.append(step if isinstance(step, str) else "*")
        inner = inner[step]
    if isinstance(inner, dict):
        steps += [inner[tag] for tag in ("code", "kind", "event", "before") if isinstance(inner.get(tag), str)]
    return tuple(steps)


def optional_names(schemas):
    """Properties that may be absent somewhere, by the sources."""
    found = set()

    def look(node):
        if isinstance(node, dict):
            found.update(set(node.get("properties", {})) - set(node.get("required", [])) if "additionalProperties" in node else ())
            for one in node.values():
                look(one)
        if isinstance(node, list):
            for one in node:
                look(one)

    look(schemas)
    return found


def without_numbers(value):
    """A value's text without what differs from one day to the next."""
    return re.sub(r'"[^"]*\d[^"]*"|[-+\d.e]+', "0", json.dumps(value))


def shortened(value):
    """A value with one of each kind of element in its long lists."""
    if isinstance(value, dict):
        return {key: shortened(inner) for key, inner in value.items()}
    if isinstance(value, list):
        kept = {without_numbers(inner): inner for inner in value}.values() if len(value) > 12 else value
        return [shortened(inner) for inner in kept]
    return value


def refuse(validator, samples, optional, name):
    """Everything that is changed has to be refused. Answers how many changes were, by kind."""
    done, tried = set(), Counter()
    # One of those that differ by numbers alone, the short ones first: what was tried of one is not tried of the others.
    different = {without_numbers(short): short for short in map(shortened, samples)}
    for _, sample in sorted(different.items(), key=lambda one: len(one[0])):
        assert validator.is_valid(sample), name
        for path, what, change in wrong_ones(sample):
            mark = (shape(path, sample), what)
            if mark in done:
                continue
            done.add(mark)
            wrong = changed(sample, path, change)
            accepted = validator.is_valid(wrong)
            if accepted and what[0] == "less" and what[1] in optional:
                continue
            assert not accepted, f"{name}: {what} at {'.'.join(map(str, path))} is taken"
            tried[what[0]] += 1
    for kind in ("more", "less", "code", "type"):
        assert tried[kind] > 0, f"{name}: nothing was tried of {kind}"
    return tried


def main():
    program = str(Path(sys.argv[1]).resolve())
    schemas = {file.name.removesuffix(".schema.json"): json.loads(file.read_text()) for file in sorted(SCHEMAS.glob("*.schema.json"))}
    for name, schema in schemas.items():
        Draft202012Validator.check_schema(schema)
        assert schema["$id"] == f"{name}.schema.json", name
        hold_form(name, schema)
    types = hold_to_sources(schemas)
    registry = Registry().with_resources((f"{name}.schema.json", Resource.from_contents(schema)) for name, schema in schemas.items())
    validators = {
        name: Draft202012Validator(schema, registry=registry, format_checker=FormatChecker()) for name, schema in schemas.items() if name != "common"
    }

    help_text = subprocess.run([program, "--help"], capture_output=True, text=True, check=True).stdout
    commands = re.findall(r"^  ([a-z-]+)  ", help_text.split("Commands:")[1].split("Options:")[0], re.MULTILINE)
    helped = {one: subprocess.run([program, one, "--help"], capture_output=True, text=True, check=True).stdout for one in commands if one != "help"}
    with_json = {one for one, text in helped.items() if "--json" in text}
    assert {SHARED.get(one, one) for one in with_json} == set(validators), with_json

    with tempfile.TemporaryDirectory() as folder:
        checked = Checked(program, Path(folder), validators)
        run_all(checked)
    assert set(checked.outputs) == with_json, with_json - set(checked.outputs)

    tried, optional = Counter(), optional_names(schemas)
    for name, validator in validators.items():
        tried += refuse(validator, checked.samples[name], optional, name)
    count = sum(checked.outputs.values())
    print(f"{count} outputs of {len(checked.outputs)} commands are as their schemas say ({sum(checked.objects.values())} objects): "
          + ", ".join(f"{name} {checked.outputs[name]}" for name in sorted(checked.outputs)))  # fmt: skip
    print(f"{types} types of the sources are as the schemas say; {sum(tried.values())} changed outputs were refused: "
          + ", ".join(f"{tried[kind]} {kind}" for kind in ("more", "less", "code", "type")))  # fmt: skip


if __name__ == "__main__":
    main()
