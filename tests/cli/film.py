"""A film of the board through the program: spots that lie where other facets' should, named by when they go out."""

import math

from case import HUT, expect, hut_ids, parse, rows_of
from photos import Board, pgm

FRAMES = 12
HOLE_MM = 40
WAYS = (10.9, 100.9)
BOARD = ("--board-size-mm", "430,430")


def left(centre, way, edge_mm):
    """Share of a facet's hole that an edge leaves which has come to a place along its way."""
    place = centre[0] * math.cos(math.radians(way)) + centre[1] * math.sin(math.radians(way))
    return min(max(0.5 + (place - edge_mm) / HOLE_MM, 0.0), 1.0)


def filmed(case):
    """Where each facet's spot lies, and the files: the whole dish, then both crossings."""
    dish = parse(HUT.read_text())
    centres = {facet["id"]: facet["centre_mm"] for facet in dish["facets"]}
    out, _ = case.run("marks", HUT, "--board-mm", "0,0,1600", "--without-secondary", "--csv")
    marks = {row["facet"]: (float(row["right_mm"]), float(row["up_mm"])) for row in rows_of(out)}
    # Each of six facets stands so that its spot lies where the next one's belongs.
    round_about = ["B1", "B2", "B3", "B4", "B5", "B6"]
    spots = dict(marks)
    for one, other in zip(round_about, round_about[1:] + round_about[:1]):
        spots[one] = marks[other]
    board = Board()
    shots = [lambda centre: 1.0]
    for way in WAYS:
        for frame in range(FRAMES):
            edge = -1000 + 2000 * (frame + 1) / FRAMES
            shots.append(lambda centre, way=way, edge=edge: left(centre, way, edge))
    files = []
    for number, shot in enumerate(shots):
        lights = [(*spots[name], shot(centres[name])) for name in spots]
        files.append(case.file(f"frame{number:02}.pgm", pgm(board.photographed(lights))))
    return spots, files


def check_film(case):
    spots, files = filmed(case)
    given = (*files, *BOARD, "--dish", HUT, "--before-focus-mm", "400", "--film", FRAMES)
    rows = rows_of(case.run("spots", *given)[0])
    expect(len(rows) >= len(hut_ids()) - 2, f"{len(rows)} spots have names")
    for row in rows:
        right, up = spots[row["facet"]]
        off = math.hypot(float(row["right_mm"]) - right, float(row["up_mm"]) - up)
        expect(off < 3.0, f"the spot of {row['facet']} is {off} mm off")
    # One photo alone gives the six facets each other's spots, or doubts them.
    alone = rows_of(case.run("spots", files[0], *BOARD, "--dish", HUT, "--before-focus-mm", "400")[0])
    right = [row for row in alone if math.hypot(float(row["right_mm"]) - spots[row["facet"]][0], float(row["up_mm"]) - spots[row["facet"]][1]) < 3.0]
    expect(len(right) <= len(hut_ids()) - 6, "the photo alone cannot know")
    reply = parse(case.run("spots", *given, "--json")[0])
    expect(reply["sure"] == len(rows), reply["sure"])


def check_films_that_are_none(case):
    board = Board()
    photo = case.file("still.pgm", pgm(board.photographed([])))
    many = [photo] * 9
    case.refuse("spots", *many, *BOARD, "--dish", HUT, "--film", 5, says="at least 4 more")
    case.refuse("spots", *many, *BOARD, "--film", 4, says="--dish: missing")
    case.refuse("spots", *many, *BOARD, "--dish", HUT, "--film", 2, says="--film: 2")
    case.refuse("spots", photo, *BOARD, "--edges-deg", "0,90", says="given without --film")
    case.refuse("spots", *many, *BOARD, "--dish", HUT, "--film", 4, "--edges-deg", "0", says="--edges-deg")
    case.refuse("spots", *many, *BOARD, "--dish", HUT, "--film", 4, "--reference", photo, says="one of the two")
    case.refuse("spots", *many, *BOARD, "--dish", HUT, "--film", 4, "--look-back", says="--film: given with --look-back")
