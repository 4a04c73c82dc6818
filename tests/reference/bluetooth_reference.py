"""Octets of Bluetooth characteristics, laid out with Python's `struct` and `crcmod` and read by core.

  bluetooth_reference.py PROGRAM [SEED]    PROGRAM: the program `bluetooth-cases` of ebbstead-tests

Field values are drawn at random, packed here by the tables of the Bluetooth SIG's characteristics (0x2A18, 0x2A34, 0x2AA7,
0x2AA8, 0x2AAA) and sent to core, which has to read the same fields and to write the same octets. Then octets are changed at random: with a
checksum every change has to be refused.
"""
import datetime
import json
import random
import struct
import subprocess
import sys

import crcmod.predefined

CASES = 4000
crc16 = crcmod.predefined.mkCrcFun("crc-16-mcrf4xx")
SPECIAL = {0x07FF: "NaN", 0x0800: "NRes", 0x07FE: "+INF", 0x0802: "-INF", 0x0801: "reserved"}
STATUS_BITS = sum(1 << bit for bit in [0, 1, 2, 3, 4, 5, 8, 9, 10, 11, 12, 13, *range(16, 24)])


def sfloat(word):
    """What 16 bits mean, by ISO/IEEE 11073-20601: decimal arithmetic through Python's own parsing of a literal."""
    if word in SPECIAL:
        return SPECIAL[word]
    mantissa, exponent = word & 0xFFF, word >> 12
    mantissa -= 0x1000 if mantissa >= 0x800 else 0
    exponent -= 16 if exponent >= 8 else 0
    return float(f"{mantissa}e{exponent}")


def sealed(octets, crc):
    return octets + (struct.pack("<H", crc16(octets)) if crc else b"")


def maybe(rng, value):
    return value if rng.random() < 0.5 else None


def word(rng):
    return rng.choice(list(SPECIAL)) if rng.random() < 0.1 else rng.getrandbits(16)


def moment(rng):
    day = datetime.datetime(1900, 1, 1) + datetime.timedelta(seconds=rng.randrange(10**10))
    return day, struct.pack("<HBBBBB", day.year, day.month, day.day, day.hour, day.minute, day.second)


def cgm(rng, crc):
    octets, decoded = b"", []
    for _ in range(rng.randint(1, 3)):
        glucose, minutes, bits = word(rng), rng.getrandbits(16), rng.getrandbits(24) & STATUS_BITS
        bits &= rng.choice([0, 0xFF, 0xFF00, 0xFF0000, 0xFFFFFF])
        trend, quality = maybe(rng, word(rng)), maybe(rng, word(rng))
        parts = [(0x80, bits & 0xFF), (0x40, bits >> 8 & 0xFF), (0x20, bits >> 16)]
        body = struct.pack("<HH", glucose, minutes) + bytes(octet for _, octet in parts if octet)
        flags = sum(flag for flag, octet in parts if octet)
        for flag, optional in [(1, trend), (2, quality)]:
            if optional is not None:
                flags |= flag
                body += struct.pack("<H", optional)
        octets += sealed(struct.pack("<BB", len(body) + (4 if crc else 2), flags) + body, crc)
        number = lambda one: None if one is None else sfloat(one)
        decoded.append(dict(mg_dl=sfloat(glucose), minutes=minutes, status=bits, trend=number(trend), quality=number(quality)))
    return octets, decoded


def feature(rng, crc):
    bits = rng.getrandbits(17) & ~(1 << 12) | (crc << 12)
    octet = rng.getrandbits(8)
    octets = struct.pack("<I", bits)[:3] + bytes([octet])
    octets += struct.pack("<H", crc16(octets) if crc else 0xFFFF)
    return octets, dict(bits=bits, fluid=octet & 15, location=octet >> 4)


def start(rng, crc):
    day, octets = moment(rng)
    zone, summer = rng.choice([-128, *range(-48, 57)]), rng.choice([0, 2, 4, 8, 255])
    offset = None if zone == -128 or summer == 255 else 15 * (zone + summer)
    return sealed(octets + struct.pack("<bB", zone, summer), crc), dict(local=str(day), offset=offset)


def meter(rng, _crc):
    sequence, (day, base) = rng.getrandbits(16), moment(rng)
    offset, faults = maybe(rng, rng.randint(-32768, 32767)), maybe(rng, rng.getrandbits(12))
    glucose = maybe(rng, (rng.random() < 0.5, word(rng), rng.getrandbits(8)))
    context = rng.random() < 0.5
    flags = (1 if offset is not None else 0) | (8 if faults is not None else 0) | (16 if context else 0)
    octets = struct.pack("<H", sequence) + base
    if offset is not None:
        octets += struct.pack("<h", offset)
    if glucose is not None:
        flags |= 2 | (4 if glucose[0] else 0)
        octets += struct.pack("<HB", glucose[1], glucose[2])
        glucose = [glucose[0], sfloat(glucose[1]), glucose[2] & 15, glucose[2] >> 4]
    if faults is not None:
        octets += struct.pack("<H", faults)
    decoded = dict(sequence=sequence, base=str(day), offset=offset, glucose=glucose, faults=faults, context=context)
    return bytes([flags]) + octets, decoded


def context(rng, _crc):
    sequence, flags, octets = rng.getrandbits(16), 0, b""
    decoded = dict(sequence=sequence, carbohydrate=None, meal=None, tester_health=None, exercise=None, medication=None, hba1c=None)
    if rng.random() < 0.5:
        flags, code, amount = flags | 1, rng.getrandbits(8), word(rng)
        octets, decoded["carbohydrate"] = octets + struct.pack("<BH", code, amount), [code, sfloat(amount)]
    if rng.random() < 0.5:
        flags, code = flags | 2, rng.getrandbits(8)
        octets, decoded["meal"] = octets + bytes([code]), code
    if rng.random() < 0.5:
        flags, code = flags | 4, rng.getrandbits(8)
        octets, decoded["tester_health"] = octets + bytes([code]), [code & 15, code >> 4]
    if rng.random() < 0.5:
        flags, seconds, hard = flags | 8, rng.choice([65535, rng.getrandbits(16)]), rng.getrandbits(8)
        octets += struct.pack("<HB", seconds, hard)
        decoded["exercise"] = [None if seconds == 65535 else seconds, hard]
    if rng.random() < 0.5:
        litres, code, amount = rng.random() < 0.5, rng.getrandbits(8), word(rng)
        flags |= 16 | (32 if litres else 0)
        octets, decoded["medication"] = octets + struct.pack("<BH", code, amount), [code, litres, sfloat(amount)]
    if rng.random() < 0.5:
        flags, amount = flags | 64, word(rng)
        octets, decoded["hba1c"] = octets + struct.pack("<H", amount), sfloat(amount)
    return struct.pack("<BH", flags, sequence) + octets, decoded


KINDS = dict(cgm=cgm, feature=feature, start=start, meter=meter, context=context)
SEALED = ["cgm", "feature", "start"]


def asked(program, cases):
    lines = "".join(f"{kind} {int(crc)} {octets.hex()}\n" for kind, crc, octets, _ in cases)
    done = subprocess.run([program], input=lines, capture_output=True, text=True, check=True)
    answers = [json.loads(line) for line in done.stdout.splitlines()]
    assert len(answers) == len(cases), "an answer for every case"
    return answers


def main(program, seed):
    rng = random.Random(seed)
    cases = []
    for number in range(CASES):
        kind = list(KINDS)[number % len(KINDS)]
        crc = kind in SEALED and rng.random() < 0.5
        cases.append((kind, crc, *KINDS[kind](rng, crc)))
    wrong = 0
    for (kind, crc, octets, decoded), answer in zip(cases, asked(program, cases)):
        if answer != dict(told=decoded, again=octets.hex()):
            wrong += 1
            print(f"{kind} {octets.hex()}: laid out as {decoded}, read as {answer}")
    changed = []
    for kind, crc, octets, _ in cases:
        if crc and kind != "feature":
            spoilt = bytearray(octets)
            spoilt[rng.randrange(len(spoilt))] ^= 1 << rng.randrange(8)
            changed.append((kind, crc, bytes(spoilt), None))
    for (kind, _, octets, _), answer in zip(changed, asked(program, changed)):
        if "refused" not in answer:
            wrong += 1
            print(f"{kind} {octets.hex()}: changed on the way and read as {answer}")
    print(f"{len(cases)} values read and written again, {len(changed)} changed ones refused (seed {seed})")
    print(f"{len(cases) + len(changed) - wrong} passed, {wrong} failed")
    return wrong != 0


if __name__ == "__main__":
    if len(sys.argv) not in (2, 3):
        sys.exit(__doc__)
    sys.exit(main(sys.argv[1], int(sys.argv[2]) if len(sys.argv) == 3 else 20260301))
