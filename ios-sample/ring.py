"""Writes App/ring.wav, what a loud alert sounds like: three rising tones and a rest, again and again. iOS plays up to 30 seconds."""

import math
import wave
from pathlib import Path

RATE = 8000
SECONDS = 24
# Hertz, seconds; silence where there is no tone.
TONES = [(880, 0.2), (0, 0.1), (1100, 0.2), (0, 0.1), (1320, 0.3), (0, 0.6)]


def sample(at):
    at %= sum(length for _, length in TONES)
    for hertz, length in TONES:
        if at < length:
            # Faded in and out, so that nothing clicks.
            fade = min(1.0, at / 0.01, (length - at) / 0.01)
            return 128 + round(120 * fade * math.sin(2 * math.pi * hertz * at)) if hertz else 128
        at -= length
    return 128


with wave.open(str(Path(__file__).parent / "App" / "ring.wav"), "wb") as out:
    out.setparams((1, 1, RATE, 0, "NONE", ""))
    out.writeframes(bytes(sample(n / RATE) for n in range(RATE * SECONDS)))
