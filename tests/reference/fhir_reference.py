"""Bundles made and read by a FHIR library for Python, held against core's reading and writing of them.

  fhir_reference.py PROGRAM    PROGRAM: the program `fhir-cases` of ebbstead-tests

`fhir.resources` (its R4B models; Bundle, Observation, MedicationAdministration and Patient have the elements used here in R4 as well)
has to accept what core writes, resource by resource, and to make bundles without any of our extensions that core reads: glucose in
mg/dL and mmol/L, with dateTime and instant, and what has to be left out.
"""
import datetime
import json
import random
import subprocess
import sys

from fhir.resources.R4B.bundle import Bundle
from fhir.resources.R4B.observation import Observation

LOINC, UCUM = "http://loinc.org", "http://unitsofmeasure.org"
# LOINC code, kind of entry, unit; LOINC group pages.
CODES = [
    ("99504-3", "sensor_reading", "mg/dL"),
    ("105272-9", "sensor_reading", "mmol/L"),
    ("41653-7", "meter_check", "mg/dL"),
    ("14743-9", "meter_check", "mmol/L"),
    ("2339-0", "meter_check", "mg/dL"),
    ("15074-8", "meter_check", "mmol/L"),
]
# From glucose's molar mass of 180.156 g/mol.
MG_DL_PER_MMOL_L = 18.0156


def written(program):
    """Core's bundle through the library's models: what they refuse, they raise."""
    text = subprocess.run([program, "write"], capture_output=True, text=True, check=True).stdout
    bundle = Bundle.model_validate_json(text)
    kinds = [type(entry.resource).__name__ for entry in bundle.entry]
    again = json.loads(bundle.model_dump_json(exclude_none=True))
    # The library drops what it does not know; nothing may be dropped.
    lost = [
        (place, key)
        for place, (one, other) in enumerate(zip(json.loads(text)["entry"], again["entry"]))
        for key in set(one["resource"]) ^ set(other["resource"])
    ]
    print(f"{len(kinds)} resources read by the library:", ", ".join(f"{kinds.count(kind)} {kind}" for kind in sorted(set(kinds))))
    return [f"the library dropped {key} of entry {place + 1}" for place, key in lost]


def made(rng, number):
    """A bundle of the library's, and what core has to say of each of its entries."""
    resources, expected = [], []
    for place in range(number):
        code, kind, unit = rng.choice(CODES)
        wrong = rng.random() < 0.2
        amount = round(rng.uniform(2.5, 25.0), 1) if unit == "mmol/L" else rng.randint(40, 400)
        zone = datetime.timezone(datetime.timedelta(minutes=15 * rng.randint(-40, 50)))
        when = datetime.datetime(2024, 1, 1, tzinfo=zone) + datetime.timedelta(seconds=rng.randrange(60_000_000))
        given = dict(value=amount, unit=unit, system=UCUM, code=unit)
        if wrong:
            given["code"] = given["unit"] = "mmol/L" if unit == "mg/dL" else "mg/dL"
        resource = Observation(
            id=f"o{place}",
            status=rng.choice(["final", "amended", "corrected"]),
            code=dict(coding=[dict(system=LOINC, code=code)]),
            subject=dict(reference="Patient/somebody"),
            valueQuantity=given,
            **{rng.choice(["effectiveDateTime", "effectiveInstant"]): when},
        )
        resources.append(resource)
        mg_dl = amount * MG_DL_PER_MMOL_L if unit == "mmol/L" else amount
        expected.append("UnitContradictsCode" if wrong else (kind, round(mg_dl, 2), when))
    bundle = Bundle(type="searchset", entry=[dict(resource=resource) for resource in resources])
    return bundle.model_dump_json(exclude_none=True), expected


def read(program):
    text, expected = made(random.Random(20260315), 300)
    answer = subprocess.run([program, "read"], input=text, capture_output=True, text=True, check=True).stdout
    reported = {}
    for line in map(json.loads, answer.splitlines()):
        if "left_out" in line:
            reported[line["place"]] = line["left_out"]
        else:
            what, at = line["entry"]["what"], datetime.datetime.fromisoformat(line["entry"]["at"])
            reported[line["place"]] = (what["kind"], what["mg_dl"], at)
    wrong = []
    for place, want in enumerate(expected, 1):
        got = reported.get(place)
        same = got == want
        if isinstance(got, tuple) and isinstance(want, tuple):
            same = got[0] == want[0] and abs(got[1] - want[1]) < 0.0051 and got[2] == want[2]
            same = same and got[2].utcoffset() == want[2].utcoffset()
        if not same:
            wrong.append(f"entry {place}: expected {want}, core says {got}")
    print(f"{len(expected)} resources of the library's read by core, {sum(isinstance(one, str) for one in expected)} left out")
    return wrong


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    wrong = written(sys.argv[1]) + read(sys.argv[1])
    print("\n".join(wrong[:20]))
    print(f"{2 - bool(wrong)} passed, {int(bool(wrong))} failed")
    sys.exit(bool(wrong))
