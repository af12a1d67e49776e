"""The drawings are measured: coordinates against the numbers that they were made from."""

import re
from xml.etree import ElementTree

import pytest

from shop.worksheets import drawings
from tests.worksheets_screens.drawing_numbers import ARCH, NECK, NUMBERS, OCTAVE, SADDLES, SIDE, WINDOW

SVG = "{http://www.w3.org/2000/svg}"


def parsed(drawing):
    return ElementTree.fromstring(str(drawing.svg))


def points(path):
    found = re.findall(r"-?\d+(?:\.\d+)?", path.get("d"))
    return [(float(x), float(y)) for x, y in zip(found[::2], found[1::2], strict=True)]


def bars(root):
    """Drawing units a millimetre, of each scale bar."""
    found = [one for one in root.iter(f"{SVG}line") if one.get("data-length-mm")]
    return [
        (abs(float(one.get("x2")) - float(one.get("x1"))) + abs(float(one.get("y2")) - float(one.get("y1"))))
        / float(one.get("data-length-mm"))
        for one in found
    ]


def of_string(root, number):
    return next(one for one in root.iter(f"{SVG}g") if one.get("data-string") == str(number))


@pytest.mark.parametrize("number", [6, 3, 1])
def test_the_side_view_has_one_scale_both_ways(number):
    root = parsed(drawings.bridge_side(NUMBERS))
    place = NUMBERS["strings"].index(number)
    line, closer = [one for one in of_string(root, number).iter(f"{SVG}path") if one.get("class") == "dg-string"]
    scale = bars(root)[-1]
    (_, crest, exit_) = points(line)
    assert (exit_[0] - crest[0]) / scale == pytest.approx(SIDE["run"][place], abs=0.05)
    assert (exit_[1] - crest[1]) / scale == pytest.approx(SIDE["crest"][place] - SIDE["exit"][place], abs=0.05)
    # The enlarged view has a bar of its own, and its string falls at the same slope.
    close_crest, close_end = points(closer)[1:]
    slope = (close_end[1] - close_crest[1]) / (close_end[0] - close_crest[0])
    assert slope == pytest.approx((SIDE["crest"][place] - SIDE["exit"][place]) / SIDE["run"][place], abs=0.005)


def test_the_gap_over_the_rear_edge_is_to_scale_in_the_enlarged_view():
    root = parsed(drawings.bridge_side(NUMBERS))
    for place, number in enumerate(NUMBERS["strings"]):
        group = of_string(root, number)
        gap = next(one for one in group.iter(f"{SVG}line") if one.get("data-gap-mm"))
        scale = bars(group)[0]
        drawn = (float(gap.get("y1")) - float(gap.get("y2"))) / scale
        assert drawn == pytest.approx(max(SIDE["clearance"][place], 0.0), abs=0.02)


def test_a_string_on_the_edge_is_drawn_over_it_and_said():
    drawing = drawings.bridge_side(NUMBERS)
    assert drawing.shown == 2
    assert "lies on the bridge's rear edge" in drawing.sentence
    line = next(one for one in of_string(parsed(drawing), 2).iter(f"{SVG}path") if one.get("class") == "dg-amiss")
    assert len(points(line)) == 4


def test_only_the_string_asked_for_is_drawn_in_full_on_paper():
    root = parsed(drawings.bridge_side(NUMBERS, only=6))
    assert [one.get("data-string") for one in root.iter(f"{SVG}g")] == ["6"]


def test_the_stud_window_is_to_scale():
    root = parsed(drawings.stud_window(NUMBERS))
    (scale,) = bars(root)
    polygon = next(points(one) for one in root.iter(f"{SVG}path") if one.get("class") == "dg-target")
    (x0, y0), (bass0, treble0) = polygon[0], WINDOW["polygon"][0]
    for (x, y), (bass, treble) in zip(polygon, WINDOW["polygon"], strict=True):
        assert (x - x0) / scale == pytest.approx(bass - bass0, abs=0.02)
        assert (y0 - y) / scale == pytest.approx(treble - treble0, abs=0.02)
    present = next(one for one in root.iter(f"{SVG}circle") if one.get("class") == "dg-present")
    assert (float(present.get("cx")) - x0) / scale == pytest.approx(WINDOW["present"][0] - bass0, abs=0.02)


def test_an_empty_window_says_so():
    drawing = drawings.stud_window(NUMBERS | {"window": {**WINDOW, "polygon": [], "advised": None}})
    assert "no setting works" in drawing.svg
    assert "No pair of stud heights satisfies every string." in drawing.sentence


def test_the_arch_is_to_its_two_scales():
    root = parsed(drawings.arch_section(NUMBERS))
    across, up = bars(root)
    spots = {int(one.get("data-string")): one for one in root.iter(f"{SVG}circle")}
    first, third = spots[6], spots[4]
    assert (float(third.get("cx")) - float(first.get("cx"))) / across == pytest.approx(20.0, abs=0.05)
    risen = ARCH["crest"][2] - ARCH["crest"][0]
    assert (float(first.get("cy")) - float(third.get("cy"))) / up == pytest.approx(risen, abs=0.01)


def test_a_left_handed_arch_is_mirrored():
    spots = [
        {int(one.get("data-string")): float(one.get("cx")) for one in parsed(drawing).iter(f"{SVG}circle")}
        for drawing in (drawings.arch_section(NUMBERS), drawings.arch_section(NUMBERS, mirrored=True))
    ]
    assert spots[0][6] < spots[0][1]
    assert spots[1][6] > spots[1][1]


def test_the_saddles_lie_where_their_travel_says():
    root = parsed(drawings.saddles_from_above(NUMBERS))
    (scale,) = bars(root)
    marked = [one for one in root.iter(f"{SVG}line") if one.get("data-string")]
    crests = {int(one.get("data-string")): float(one.get("x1")) for one in marked}
    back = SADDLES["room_back"]
    assert (crests[6] - crests[5]) / scale == pytest.approx(back[1] - back[0], abs=0.02)
    assert (crests[6] - crests[1]) / scale == pytest.approx(back[5] - back[0], abs=0.02)


def test_the_neck_is_to_its_two_scales():
    root = parsed(drawings.neck_heights(NUMBERS))
    along, up = bars(root)
    line = next(one for one in root.iter(f"{SVG}line") if one.get("data-string") == "6")
    assert (float(line.get("x2")) - float(line.get("x1"))) / along == pytest.approx(628.0, abs=1.0)
    assert (float(line.get("y1")) - float(line.get("y2"))) / up == pytest.approx(3.0, abs=0.01)
    place = NECK["fret"].index(12)
    assert f"stands {NECK['heights'][6][place]:.2f} mm over fret 12" in drawings.neck_heights(NUMBERS).sentence


def test_the_octave_shows_the_newest_round():
    root = parsed(drawings.octave_rounds(NUMBERS))
    marked = [one for one in root.iter(f"{SVG}circle") if one.get("data-string")]
    newest = {int(one.get("data-string")): float(one.get("data-cents")) for one in marked}
    assert newest == {number: rounds[-1]["cents"] for number, rounds in OCTAVE.items() if rounds}


def test_a_range_bar_keeps_proportion():
    root = parsed(drawings.range_bar(name="x", received=2.4, left=1.8, low=1.6, high=2.1))
    spots = {float(one.get("data-value")): float(one.get("cx")) for one in root.iter(f"{SVG}circle")}
    target = next(one for one in root.iter(f"{SVG}rect"))
    scale = float(target.get("width")) / 0.5
    assert (spots[2.4] - spots[1.8]) / scale == pytest.approx(0.6, abs=0.002)
    assert (spots[1.8] - float(target.get("x"))) / scale == pytest.approx(0.2, abs=0.002)
