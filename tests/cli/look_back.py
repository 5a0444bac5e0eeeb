"""A look back through the program: eight drawn photos to spots, and those to turns."""

import math

from case import HUT, expect, hut_ids, parse, rows_of
from photos import pgm

SIZE = 420
PX_PER_M = 220.0
CAMERA = (0.0, 0.0, 30000.0)
SCREEN = (344.0, 194.0)
SCREEN_PLACE = ("--board-mm", "0,0,2000", "--without-secondary")


def seen(x_mm, y_mm, z_mm):
    """Place in the photo of a camera on the axis, its picture upright."""
    near = CAMERA[2] / (CAMERA[2] - z_mm)
    return SIZE / 2 + PX_PER_M * near * x_mm / 1000, SIZE / 2 - PX_PER_M * near * y_mm / 1000


def code(light):
    return round(255 * (12.92 * light if light <= 0.0031308 else 1.055 * light ** (1 / 2.4) - 0.055))


def photo(facets, marks, picture):
    """Each facet as a disc of the one light that a hollow facet shows far away."""
    rows = [bytearray([code(0.03)]) * SIZE for _ in range(SIZE)]
    side = 0 if picture < 4 else 1
    for number, (facet, (x, y)) in enumerate(facets.items()):
        wave = 0.75 * marks[facet][side] / SCREEN[side] + picture % 4 / 4
        value = code((0.3 + 0.1 * (number % 3)) * (0.5 + 0.45 * math.cos(2 * math.pi * wave)) + 0.02)
        for row in range(int(y) - 26, int(y) + 27):
            for column in range(int(x) - 26, int(x) + 27):
                if (column + 0.5 - x) ** 2 + (row + 0.5 - y) ** 2 < 24**2:
                    rows[row][column] = value
    return [bytes(row) for row in rows]


def drawn(case):
    """The facets' places in the photos, where their marks are, and the eight files."""
    dish = parse(HUT.read_text())
    facets = {one["id"]: seen(*one["centre_mm"]) for one in dish["facets"]}
    out, _ = case.run("marks", HUT, "--source", "camera", "--camera-mm", "0,0,30000", *SCREEN_PLACE, "--csv")
    marks = {row["facet"]: (float(row["right_mm"]), float(row["up_mm"])) for row in rows_of(out)}
    files = [case.file(f"fringe{k + 1}.pgm", pgm(photo(facets, marks, k))) for k in range(8)]
    return facets, marks, files


def options(facets):
    pointed = " ".join(f"{name}:{facets[name][0]:.2f},{facets[name][1]:.2f}" for name in ("C1", "C5", "C10", "C14", "B3"))
    return ("--look-back", "--dish", HUT, "--screen-mm", "344,194", "--camera-mm", "0,0,30000", "--facets-px", pointed)


def check_look_back(case):
    facets, marks, files = drawn(case)
    out, _ = case.run("spots", *files, *options(facets))
    rows = rows_of(out)
    expect(sorted(row["facet"] for row in rows) == sorted(hut_ids()), "every facet is read")
    # Steps of 8 bits are all that is wrong with these pictures.
    for row in rows:
        right, up = marks[row["facet"]]
        off = math.hypot(float(row["right_mm"]) - right, float(row["up_mm"]) - up)
        expect(off < 1.0, f"{row['facet']} is {off} mm off")
    out, _ = case.run("spots", *files, *options(facets), "--json")
    reply = parse(out)
    expect(reply["read"] == 36 and reply["view"]["residual_px"] < 0.1, reply["view"])
    # Facets at nominal: align must find next to nothing to turn.
    table = case.file("look.csv", case.run("spots", *files, *options(facets))[0])
    out, _ = case.run("align", HUT, "--spots", table, "--source", "camera", "--camera-mm", "0,0,30000", *SCREEN_PLACE, "--json")
    for facet in parse(out)["facets"]:
        tilt = math.hypot(*facet["tilt_error_mrad"])
        expect(tilt < 0.25, f"{facet['id']} is told to be {tilt} mrad off")
    sheet = case.folder / "fringes.html"
    case.run("board", "--screen-mm", "344,194", "--out", sheet)
    expect("requestFullscreen" in sheet.read_text(), "the page fills the screen")


def check_look_backs_that_are_none(case):
    facets, _, files = drawn(case)
    given = options(facets)
    case.refuse("spots", *files[:7], *given, says="photos: 7")
    case.refuse("spots", *files, "--look-back", says=["--dish", "--screen-mm", "--camera-mm", "--facets-px"])
    case.refuse("spots", *files, *given[:-1], "C1:10,10 C5;C10", says="FACET:X,Y")
    case.refuse("spots", *files, *given[:-1], "C1:10,10 C5:20,20 C10:30,10", says="facets pointed at: 3")
    case.refuse("spots", *files, *given[:-1], "Q1:10,10 C5:20,20 C10:30,10 C14:5,5", says="there is no facet Q1")
    case.refuse("spots", *files[:2], "--board-size-mm", "430,430", says="no further word here")
    case.refuse("spots", *files, *given, "--spot-mm", "20", says="--spot-mm: given with --look-back")
    case.refuse("spots", files[0], "--board-size-mm", "430,430", "--camera-mm", "0,0,1", says="without --look-back")
    case.refuse("board", "--screen-mm", "3,4", says="--screen-mm")
