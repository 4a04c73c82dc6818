"""What goes in through the bindings: a sensor nearby, whose bytes are made here with `struct`."""

import struct

import pytest

import ebbstead as eb

# 2 May 2024, noon, one hour east of UTC.
NOW = eb.Moment(unix_ms=1_714_647_600_000, offset_minutes=60)


def sfloat(mantissa, exponent=0):
    return (exponent & 0xF) << 12 | mantissa & 0xFFF


def reading(mg_dl, minutes):
    return struct.pack("<BBHH", 6, 0, sfloat(mg_dl), minutes)


def test_a_sensor_nearby_is_received_and_its_day_is_drawn(tmp_path):
    companion = eb.EbbsteadCompanion.open(str(tmp_path / "log.ebb"), "en", NOW)
    device = companion.exchange().device("sensor 7", [eb.OffsetChange(from_unix_ms=0, offset_minutes=60)])
    assert device.receive(0x2AA7, reading(120, 5), NOW).waiting == 1
    start = struct.pack("<HBBBBBbB", 2024, 5, 2, 10, 15, 0, 4, 0)
    begun = device.receive(0x2AAA, start, NOW)
    assert (begun.recorded.new, begun.session_began.unix_ms) == (1, NOW.unix_ms - 105 * 60_000)
    received = device.receive(0x2AA7, reading(118, 10) + reading(117, 15), NOW)
    assert received.recorded.new == 2
    # Minus infinity: the device says that glucose is below what it can read. That is a reading, and it is remarked on.
    low = device.receive(0x2AA7, struct.pack("<BBHH", 6, 0, 0x802, 20), NOW)
    assert low.recorded.new == 1 and len(low.remarks) == 1
    listed = companion.log().list(begun.session_began, NOW, False, True)
    assert [one.entry.what.mg_dl for one in listed] == [120.0, 118.0, 117.0, 40.0]
    with pytest.raises(eb.ApiError.InvalidInput):
        companion.exchange().device("", [])
    options = eb.ReviewOptions(days=14, aims=eb.Aims.ADULT, without_compression_lows=False)
    assert companion.review().day(options, NOW) is None
