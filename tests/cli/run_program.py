#!/usr/bin/env python3
"""Runs the native program as a person or a script would, and checks what it answers.

    run_program.py PROGRAM [NAME...]      all checks, or those whose names contain a NAME

Each check is a function check_*(case). It ends with a sentence when something is not as promised.
"""

import json
import math
import os
import re
import shutil
import sys
import tempfile
import traceback
from pathlib import Path

from case import Case, DEMOS, HUT, MEGABYTE, TOP, edited_hut, expect, hut_ids, mount_of, parse, rows_of, spots_file
from film import check_film, check_films_that_are_none
from look_back import check_look_back, check_look_backs_that_are_none
from photos import check_board_sheet, check_names_of_a_photo, check_photos_that_are_none, check_spots_of_a_photo
from studies import (check_budget, check_form, check_new_solves_the_secondary, check_optimise_aims, check_optimise_size,
                     check_practice)

COMMANDS = ("new", "check", "trace", "preset", "align", "rounds", "practice", "marks", "aims", "budget", "form", "optimise",
            "board", "spots")


def check_help_and_version(case):
    out, _ = case.run("--help")
    for command in COMMANDS:
        expect(re.search(rf"^  {command} ", out, re.M), f"the help lacks {command}")
    out, _ = case.run("--version")
    expect(re.fullmatch(r"facetwright \d+\.\d+\.\d+.*\n", out), out)


def check_examples_of_the_help_run(case):
    shutil.copytree(TOP / "assets", case.folder / "assets")
    for command in COMMANDS:
        out, _ = case.run(command, "--help")
        expect("Options:" in out and "--help" in out, out)
        expect(all(len(line) <= 100 for line in out.splitlines()), "help lines are at most 100 wide")
        lines = out.split("Example:\n", 1)[1].strip().splitlines()
        for line in lines:
            words = line.split()
            expect(words[0] == "facetwright", line)
            result, _ = case.run(*words[1:], cwd=case.folder)
            expect(result != "" or "--out" in words, f"the example printed nothing: {line}")


def check_words_that_nobody_knows(case):
    case.refuse(says="no command")
    case.refuse("trcae", HUT, says="perhaps trace")
    case.refuse("trace", HUT, "--ray", "5", says="perhaps --rays")
    case.refuse("trace", HUT, "--rays", says="its value is missing")
    case.refuse("trace", HUT, "--rays", "many", says=["--rays", "many", "a whole number from 1"])
    case.refuse("trace", HUT, "--rays", "0", says="a whole number from 1")
    case.refuse("trace", HUT, "--json", "--csv", says="both given")
    case.refuse("trace", says="a file is missing")
    case.refuse("trace", HUT, HUT, says="no further word here")
    err = case.refuse("trace", HUT, "--rays", "x", "--seed", "y", says=["--rays", "--seed"])
    expect(len(err.splitlines()) == 2, "all bad options are told in one go")


# Bad dish files -------------------------------------------------------------------------------


def check_files_that_are_no_dish(case):
    case.refuse("trace", "absent.dish.json", says=["absent.dish.json", "No such file"])
    case.refuse("trace", case.folder, says="a folder")
    case.refuse("trace", case.file("empty.json", ""), says="empty.json")
    case.refuse("trace", case.file("broken.json", '{"format": "facetwright dish",\n "version": 1,,}'),
                says=["broken.json", "2"])
    case.refuse("trace", case.file("cut.json", HUT.read_bytes()[:2000]), says="cut.json")
    case.refuse("trace", case.file("other.json", '{"hello": 1}'), says="format")
    case.refuse("trace", case.file("zeros.bin", bytes(5000)), says="zeros.bin")
    case.refuse("trace", case.file("deep.json", "[" * 200_000), says="deep.json")
    case.refuse("trace", "-", text="{", says="standard input")


def check_a_file_of_100_megabytes(case):
    big = case.folder / "big.json"
    with big.open("wb") as file:
        file.truncate(100 * MEGABYTE)
    case.refuse("trace", big, says=["big.json", "MB"])
    out, err = case.run("check", big, code=2)
    expect("big.json" in err and "MB" in err and "1 error" in out, err + out)
    case.refuse("align", HUT, "--spots", big, says=["big.json", "MB"])
    case.refuse("trace", "/dev/zero", says="MB")


def check_mounts_that_cannot_hold_a_facet(case):
    def pitch(dish):
        mount_of(dish)["adjusters"][1]["pitch_mm"] = 0

    def in_a_line(dish):
        for step, adjuster in enumerate(mount_of(dish)["adjusters"]):
            adjuster["x_mm"], adjuster["y_mm"] = 40.0 * step, 20.0 * step

    def none(dish):
        mount_of(dish)["adjusters"] = []

    def two(dish):
        mount_of(dish)["adjusters"].pop()

    case.refuse("preset", edited_hut(case, "pitch.json", pitch), says=["pitch.json", "pitch"])
    case.refuse("preset", edited_hut(case, "line.json", in_a_line), says="line")
    for command in (["preset"], ["align", "--spots", spots_file(case)]):
        words = [command[0], edited_hut(case, "none.json", none), *command[1:]]
        case.refuse(*words, says="adjusters")
        words = [command[0], edited_hut(case, "two.json", two), *command[1:]]
        case.refuse(*words, says="adjusters")


# check ----------------------------------------------------------------------------------------


def check_the_shipped_dishes(case):
    demos = sorted(DEMOS.glob("*.dish.json"))
    expect(len(demos) >= 3, "three dishes are shipped")
    out, _ = case.run("check", *demos, "--json")
    files = parse(out)["files"]
    expect([Path(entry["file"]).name for entry in files] == [demo.name for demo in demos], out)
    for entry in files:
        expect(entry["ok"] is True and entry["errors"] == [], f"a shipped dish has errors: {entry}")
    out, _ = case.run("check", HUT)
    expect("larch-refuge" in out, out)


def check_doubts_are_no_errors(case):
    def past_the_receiver(dish):
        for facet in dish["facets"]:
            facet["aim_mm"] = [400, 0]

    path = edited_hut(case, "aside.json", past_the_receiver)
    out, _ = case.run("check", path, "--json")
    entry = parse(out)["files"][0]
    expect(entry["ok"] is True and entry["doubts"], "a spot beside the receiver is a doubt")
    expect(any("receiver" in (d["place"] + d["text"]) for d in entry["doubts"]), out)
    broken = case.file("broken.json", "{")
    out, err = case.run("check", path, broken, "--json", code=2)
    files = parse(out)["files"]
    expect([entry["ok"] for entry in files] == [True, False], out)
    expect("broken.json" in err, err)


# trace ----------------------------------------------------------------------------------------

TRACE_KEYS = """rays seed sun dni_W_m2 aperture_area_m2 power_incident_W power_reflected_W power_receiver_W
standard_error_W intercept_factor optical_efficiency centroid_mm peak_W_m2 peak_concentration
mean_concentration radius_mm losses_W facets""".split()


def check_trace_keys_and_watts(case):
    out, err = case.run("trace", HUT, "--rays", 50_000, "--json")
    expect(err == "", f"no progress and no remarks when standard error is no terminal: {err}")
    reply = parse(out)
    for key in TRACE_KEYS:
        expect(key in reply, f"trace --json lacks {key}")
    expect(list(reply["radius_mm"]) == ["50", "90", "95"], reply["radius_mm"])
    for key in ("shading", "blocking", "absorption", "spillage"):
        expect(key in reply["losses_W"], f"losses_W lacks {key}")
    accounted = sum(reply["losses_W"].values()) + reply["power_receiver_W"]
    expect(math.isclose(accounted, reply["power_incident_W"], rel_tol=1e-9), f"watts are missing: {reply}")
    expect(len(reply["facets"]) == 36, "one entry a facet")
    expect(set(reply["facets"][0]) >= {"id", "power_W", "centroid_mm", "rms_radius_mm"}, out[:300])
    total = sum(facet["power_W"] for facet in reply["facets"])
    expect(math.isclose(total, reply["power_receiver_W"], rel_tol=1e-9), "facets add up to the dish")
    expect(reply["rays"] >= 50_000 and reply["seed"] == 1, out[:200])


def check_trace_does_not_depend_on_workers(case):
    words = ["trace", HUT, "--rays", 60_000, "--seed", 7, "--json"]
    one, _ = case.run(*words, "--workers", 1)
    three, _ = case.run(*words, "--workers", 3)
    expect(one == three, "the number of workers changed the result")
    other, _ = case.run("trace", HUT, "--rays", 60_000, "--seed", 8, "--json")
    expect(other != one, "the seed changed nothing")


def check_trace_sun_and_sag_map(case):
    dish = parse(HUT.read_text())
    dish["sun"]["shape"] = "circumsolar"
    dish["sun"]["circumsolar_ratio"] = 0.1
    path = case.file("hazy.dish.json", json.dumps(dish))
    reply = parse(case.run("trace", path, "--rays", 30_000, "--json")[0])
    expect(reply["sun"] == {"shape": "circumsolar", "half_angle_mrad": 4.65, "circumsolar_ratio": 0.1}, reply["sun"])
    report, _ = case.run("trace", path, "--rays", 30_000)
    expect("with 10 % of the light around it" in report, report[:400])
    even = parse(case.run("trace", HUT, "--rays", 30_000, "--json")[0])
    expect(reply["intercept_factor"] < even["intercept_factor"], "an aureole spills")
    steep = [[0.004 * abs(u) * abs(v) / 200 for u in range(-200, 201, 100)] for v in range(-200, 201, 100)]
    rows = [["v/u"] + list(range(-200, 201, 100))] + [[v] + row for v, row in zip(range(-200, 201, 100), steep)]
    bowl = case.file("bowl.csv", "\n".join(",".join(map(str, row)) for row in rows))
    bent = parse(case.run("trace", HUT, "--rays", 30_000, "--sag-map", bowl, "--json")[0])
    expect(bent["radius_mm"]["90"] > even["radius_mm"]["90"], "a bent mirror spreads its light")
    case.refuse("trace", HUT, "--sag-map", case.file("one.csv", "v/u,0\n0,1\n"), says="2 to 500")
    case.refuse("trace", HUT, "--sag-map", case.file("small.csv", "v/u,0,1\n0,1,1\n1,1,1\n"), says="it covers")
    case.refuse("trace", HUT, "--sag-map", "absent.csv", says="No such file")


def check_trace_map_and_tables(case):
    where = case.folder / "map.csv"
    out, _ = case.run("trace", HUT, "--rays", 50_000, "--map", where, "--map-cells", 16, "--csv")
    expect(len(rows_of(out)) == 36, "one row a facet")
    cells = rows_of(where.read_text())
    expect(list(cells[0]) == ["right_mm", "up_mm", "flux_W_m2"], "units stand in the map's header")
    expect(len(cells) == 256, f"16 x 16 cells, not {len(cells)}")
    reply = parse(case.run("trace", HUT, "--rays", 50_000, "--map-cells", 16, "--json")[0])
    width = 2 * (float(cells[1]["right_mm"]) - float(cells[0]["right_mm"])) * 8
    area_m2 = (width / 1000) ** 2 / 256
    watts = sum(float(cell["flux_W_m2"]) for cell in cells) * area_m2
    expect(0.9 * reply["power_receiver_W"] < watts < 1.2 * reply["power_plane_W"], f"{watts} W in the map")
    report, _ = case.run("trace", HUT, "--rays", 50_000)
    expect("spillage" in report and "intercept factor" in report and "nan" not in report.lower(), report)


def check_trace_settings(case):
    centred = parse(case.run("trace", HUT, "--rays", 50_000, "--json")[0])
    aside = parse(case.run("trace", HUT, "--rays", 50_000, "--sun-x-mrad", 5, "--json")[0])
    moved = aside["centroid_mm"][0] - centred["centroid_mm"][0]
    expect(abs(moved) > 2.0, f"5 mrad of sun moved the spot by {moved} mm only")
    first = centred["facets"][0]["id"]
    one = parse(case.run("trace", HUT, "--rays", 20_000, "--facet", first, "--json")[0])
    lit = [facet["id"] for facet in one["facets"] if facet["power_W"] > 0]
    expect(lit == [first], f"only {first} is traced, not {lit}")
    case.refuse("trace", HUT, "--facet", "nobody", says="--facet: there is no facet nobody")


def check_standard_input_and_whole_files(case):
    piped, _ = case.run("trace", "-", "--rays", 20_000, "--json", text=HUT.read_text())
    named, _ = case.run("trace", HUT, "--rays", 20_000, "--json")
    expect(piped == named, "standard input gives what the file gives")
    kept = case.file("kept.json", "older")
    out, _ = case.run("trace", HUT, "--rays", 20_000, "--json", "--out", kept)
    expect(out == "" and kept.read_text() == named, "--out takes the result, whole")
    case.file("kept.json", "older")
    case.refuse("trace", case.file("bad.json", "{"), "--out", kept, says="bad.json")
    case.refuse("trace", HUT, "--rays", 20_000, "--out", case.folder / "no" / "where", says="where")
    expect(kept.read_text() == "older", "a refused command left the older file as it was")
    names = sorted(path.name for path in case.folder.iterdir())
    expect(names == ["bad.json", "kept.json"], f"half files were left: {names}")


# preset ---------------------------------------------------------------------------------------


def check_preset(case):
    reply = parse(case.run("preset", HUT, "--json")[0])
    expect(len(reply["facets"]) == 36, "one entry a facet")
    for facet in reply["facets"]:
        expect(set(facet) >= {"id", "normal", "screws"}, facet)
        expect(abs(math.hypot(*facet["normal"]) - 1) < 1e-12, "the normal is a unit vector")
        expect(len(facet["screws"]) == 3, facet)
        for screw in facet["screws"]:
            expect(set(screw) >= {"label", "height_mm", "displacement_mm"}, screw)
    rows = rows_of(case.run("preset", HUT, "--csv")[0])
    expect(len(rows) == 108 and float(rows[0]["height_mm"]) == reply["facets"][0]["screws"][0]["height_mm"],
           "the CSV has one row a screw")
    expect("mm" in case.run("preset", HUT)[0], "the table names its unit")


# align ----------------------------------------------------------------------------------------


def check_align_keys(case):
    reply = parse(case.run("align", HUT, "--spots", spots_file(case), "--json")[0])
    for mode in ("boresight_mrad", "focus_mm", "clocking_deg"):
        name, unit = mode.rsplit("_", 1)
        expect(mode in reply["common"], f"common lacks {mode}")
        expect(f"{name}_sigma_{unit}" in reply["common"], f"common.{mode} has its sigma beside it")
    expect(len(reply["common"]["boresight_mrad"]) == 2, "boresight is [x, y]")
    expect([facet["id"] for facet in reply["facets"]] == hut_ids(), "facets in the dish's order")
    for facet in reply["facets"]:
        expect(set(facet) >= {"id", "tilt_error_mrad", "screws", "residual_mrad", "verdict"}, facet)
        expect(len(facet["screws"]) == 3, facet)
        for screw in facet["screws"]:
            wanted = {"label", "displacement_mm", "turns", "sigma_turns", "direction", "seen_from", "travel_left_mm"}
            expect(set(screw) >= wanted, screw)


def check_rounds(case):
    dish = json.loads(HUT.read_text())
    facet = dish["rounds"][0]["spots"][0]["facet"]
    label = mount_of(dish)["adjusters"][0]["label"]
    dish["rounds"][0]["turned"] = [{"facet": facet, "screw": label, "turns": 0.25}]
    again = json.loads(json.dumps(dish["rounds"][0]))
    again.update(name="Second look", turned=[])
    mine = case.file("mine.dish.json", json.dumps(dish))
    theirs = case.file("theirs.dish.json", json.dumps({**dish, "rounds": [dish["rounds"][0], again]}))
    both = case.folder / "both.dish.json"
    out, _ = case.run("rounds", mine, "--merge", theirs, "--out", both)
    expect("Second look comes from the other file." in out, out)
    names = [entry["name"] for entry in json.loads(both.read_text())["rounds"]]
    expect(names == [dish["rounds"][0]["name"], "Second look"], names)
    reply = parse(case.run("rounds", both, "--json")[0])
    expect(len(reply["rounds"]) == 2 and reply["outlook"]["now_W"] > 0, "a story in watts")
    shorter = case.folder / "shorter.dish.json"
    case.run("rounds", both, "--undo-last", "--without-watts", "--out", shorter)
    expect(len(json.loads(shorter.read_text())["rounds"]) == 1, "one round was taken back")
    case.refuse("rounds", mine, "--out", shorter, says="--out")


def check_align_conventions(case):
    spots = spots_file(case)
    label = mount_of(json.loads(HUT.read_text()))["adjusters"][1]["label"]
    for keep in ("height", label, "least-turns", "tighten-only"):
        reply = parse(case.run("align", HUT, "--spots", spots, "--keep", keep, "--json")[0])
        moved = [[screw["displacement_mm"] for screw in facet["screws"]] for facet in reply["facets"]]
        if keep == label:
            expect(all(abs(three[1]) < 1e-9 for three in moved), f"screw {label} is held")
        if keep == "least-turns":
            expect(all(min(map(abs, three)) < 1e-9 for three in moved), "one screw of three stays")
    case.refuse("align", HUT, "--spots", spots, "--keep", "heigth", says=["--keep", "height"])


def check_align_without_light(case):
    first, second = hut_ids()[:2]
    leans = case.file("leans.csv", f"facet,edge_deg,reading_deg\n{first},0,0\n{first},90,10\n")
    heights = case.file("heights.csv", "facet,x_mm,y_mm,height_mm\n" + "".join(
        f"{second},{x},{y},{30 + 0.001 * x}\n" for x, y in ((0, 80), (-69, -40), (69, -40))))
    reply = parse(case.run("align", HUT, "--heights", heights, "--json")[0])
    expect([facet["seen_with"] for facet in reply["facets"]] == ["height gauge"], reply)
    expect(reply["facets"][0]["tilt_sigma_mrad"] > 0.1, "a caliper has its uncertainty")
    case.refuse("align", HUT, "--leans", leans, says="--elevation-deg")
    case.refuse("align", HUT, "--leans", leans, "--elevation-deg", "0", says=["leans.csv", first])
    case.refuse("align", HUT, "--leans", heights, "--elevation-deg", "70", says="edge_deg: missing")


def check_sheets_and_marks(case):
    spots = spots_file(case)
    sheet, pages = case.folder / "sheet.html", case.folder / "marks.html"
    out, _ = case.run("align", HUT, "--spots", spots, "--sheet", sheet, "--json")
    html = sheet.read_text()
    for facet in parse(out)["facets"]:
        expect(f"</span> {facet['id']}</h2>" in html, f"no card of {facet['id']}")
        if facet["verdict"] == "turn":
            expect(all(screw["text"] in html for screw in facet["screws"]), facet)
    case.refuse("align", HUT, "--spots", spots, "--order", "rings", says="--sheet")
    marks, _ = case.run("marks", HUT, "--source", "camera", "--camera-mm", "0,0,30000", "--csv", "--html", pages)
    expect("100 mm: measure it" in pages.read_text(), "a rule to check the scale")
    marked = case.file("marked.csv", marks)
    out, err = case.run("align", HUT, "--spots", marked, "--source", "camera", "--camera-mm", "0,0,30000", "--json")
    expect("ring_mm" in err and parse(out)["facets_to_turn"] == 0, "marks as spots ask for no turns")
    case.refuse("marks", HUT, "--paper", "a3", says=["a4", "letter"])


def check_aims(case):
    out, err = case.run("aims", HUT, "--pattern", "disc", "--radius-mm", "30", "--spot-sigma-mm", "20")
    expect("0.600" in err, err)
    expect(len({tuple(facet.get("aim_mm", (0, 0))) for facet in parse(out)["facets"]}) == 36, "each its own aim")
    path = case.file("aimed.json", out)
    case.run("check", path)
    case.refuse("aims", HUT, "--pattern", "disc", says="--radius-mm")
    case.refuse("aims", HUT, "--pattern", "single", "--radius-mm", "5", says="--aim-mm")
    case.refuse("aims", HUT, says="--pattern")


def check_align_sources(case):
    spots = spots_file(case)
    turns = {}
    for words in (["sun"], ["laser"], ["lamp", "--lamp-mm", "0,0,30000"],
                  ["laser-at", "--laser-mm", "0,0,15000"], ["camera", "--camera-mm", "0,0,30000"]):
        reply = parse(case.run("align", HUT, "--spots", spots, "--source", *words, "--json")[0])
        turns[words[0]] = [screw["turns"] for facet in reply["facets"] for screw in facet["screws"]]
    expect(turns["sun"] != turns["lamp"], "a lamp is not the sun")
    expect(turns["camera"] == turns["lamp"], "light runs the same way in both directions")
    expect(turns["laser-at"] != turns["camera"], "a laser at 15 m is not a camera at 30 m")
    case.refuse("align", HUT, "--spots", spots, "--source", "camera", says="--camera-mm")
    case.refuse("align", HUT, "--spots", spots, "--laser-mm", "0,0,1", "--camera-mm", "0,0,9", says="given without")
    out, _ = case.run("align", HUT, "--spots", spots, "--source", "camera", "--camera-mm", "0,0,30000")
    expect("within 30 degrees" in out, "a look back is cautioned")
    case.refuse("align", HUT, "--spots", spots, "--source", "lamp", says="--lamp-mm")
    case.refuse("align", HUT, "--spots", spots, "--source", "moon", says=["moon", "sun, laser, lamp"])
    case.refuse("align", HUT, "--spots", spots, "--source", "sun", "--lamp-mm", "0,0,1e4", says="--lamp-mm")
    case.refuse("align", HUT, "--spots", spots, "--source", "laser", "--sun-x-mrad", "1", says="--sun-x-mrad")
    case.refuse("align", HUT, "--spots", spots, "--source", "lamp", "--lamp-mm", "1,2", says="3 numbers")
    case.refuse("align", HUT, says="--spots")
    case.refuse("align", HUT, "--spots", spots, "--round", "last", says="both given")
    case.refuse("align", HUT, "--round", "never", says="--round: there is no round never")
    case.refuse("align", HUT, "--spots", spots, "--leave-out", "boresight,coma", says=["coma", "clocking"])
    case.refuse("align", HUT, "--spots", spots, "--board-mm", "0,0,1e9", says="--board-mm")
    case.refuse("align", HUT, "--spots", spots, "--board-mm", "0,0,100", "--board-up", "0,0,1", says="--board-up")
    out, _ = case.run("align", HUT, "--round", "last", "--json")
    expect(len(parse(out)["facets"]) == 36, "the round that the dish holds")


def check_align_bad_spots(case):
    first, second = hut_ids()[:2]
    wrong = first[:-1] + "_"
    case.refuse("align", HUT, "--spots", spots_file(case, [(wrong, 1, 1)]), says=["line 2", wrong])
    err = case.refuse("align", HUT, "--spots", spots_file(case, [(first, 1, 1), (second, 0, 0), (first, 2, 2)]),
                      says=["line 4", first])
    expect("spots.csv" in err, err)
    case.refuse("align", HUT, "--spots", spots_file(case, [(first, "nan", 1)]), says=["line 2", "nan"])
    case.refuse("align", HUT, "--spots", spots_file(case, [(first, "left", 1)]), says=["line 2", "left"])
    case.refuse("align", HUT, "--spots", spots_file(case, [(first, 9e4, 1)]), says=["line 2", "right_mm"])
    far = spots_file(case, [(first, 9000, 9000), (second, 1, 1)])
    err = case.refuse("align", HUT, "--spots", far, says=["spots.csv", first, "light can reach"])
    expect(second not in err, "the other spot is in order")
    one = parse(case.run("align", HUT, "--spots", far, "--skip-unusable", "--json")[0])
    expect([f["id"] for f in one["facets"]] == [second] and len(one["unusable"]) == 1, "one is left out")
    case.refuse("align", HUT, "--spots", case.file("head.csv", "facet,right_mm\nA,1\n"), says="up_mm")
    case.refuse("align", HUT, "--spots", case.file("none.csv", "facet,right_mm,up_mm\n"), says="none.csv")
    case.refuse("align", HUT, "--spots", case.file("bin.csv", bytes(range(256))), says="bin.csv")
    case.refuse("align", "-", "--spots", "-", text="{}", says="standard input")


def check_align_reads_other_spreadsheets(case):
    ids = hut_ids()
    plain = case.file("plain.csv", "facet,right_mm,up_mm\n" + "".join(f"{i},1.5,-2.25\n" for i in ids))
    comma = case.file("comma.csv", "\ufefffacet;right_mm;up_mm;note\r\n" +
                      "".join(f"{i};1,5;-2,25;windy\r\n" for i in ids))
    one, _ = case.run("align", HUT, "--spots", plain, "--json")
    two, err = case.run("align", HUT, "--spots", comma, "--json")
    expect(one == two, "a decimal comma, semicolons and a byte-order mark change nothing")
    expect("note" in err, f"the extra column is remarked upon: {err}")
    three, _ = case.run("align", HUT, "--spots", "-", "--json", text=plain.read_text())
    expect(three == one, "spots from standard input")


# budget, form, optimise -----------------------------------------------------------------------


def check_new_makes_dishes_that_trace(case):
    for layout in ("rings", "lattice", "petals"):
        out, _ = case.run("new", "--layout", layout)
        path = case.file(f"{layout}.dish.json", out)
        expect(parse(out)["format"] == "facetwright dish", out[:200])
        case.run("check", path)
        reply = parse(case.run("trace", path, "--rays", 20_000, "--json")[0])
        expect(reply["power_receiver_W"] > 0, f"no light with a new {layout} dish")
        case.run("preset", path, "--json")
    case.refuse("new", "--layout", "spiral", says="rings, lattice, petals")


def check_ten_thousand_facets(case):
    path = case.folder / "wide.dish.json"
    case.run("new", "--layout", "lattice", "--columns", 100, "--rows", 100, "--pitch-mm", 105, "--facet-mm", 100,
             "--focal-length-m", 12, "--out", path)
    expect(len(json.loads(path.read_text())["facets"]) == 10_000, "100 x 100 facets")
    case.run("check", path)
    reply = parse(case.run("trace", path, "--rays", 100_000, "--json")[0])
    expect(len(reply["facets"]) == 10_000 and reply["power_receiver_W"] > 0, "all facets traced")
    expect(len(parse(case.run("preset", path, "--json")[0])["facets"]) == 10_000, "all facets preset")


def main():
    program = str(Path(sys.argv[1]).resolve())
    wanted = sys.argv[2:]
    os.environ["LC_ALL"] = "C.UTF-8"
    failed = 0
    checks = [(name, value) for name, value in globals().items() if name.startswith("check_")]
    for name, check in checks:
        if wanted and not any(part in name for part in wanted):
            continue
        with tempfile.TemporaryDirectory() as folder:
            try:
                check(Case(program, folder))
                print(f"ok    {name[6:].replace('_', ' ')}", flush=True)
            except Exception as fault:  # noqa: BLE001 - every fault of a check is told, then the next runs
                failed += 1
                kind = "" if isinstance(fault, AssertionError) else traceback.format_exc()
                print(f"FAIL  {name[6:].replace('_', ' ')}: {fault}\n{kind}", flush=True)
    print(f"{failed} failed")
    sys.exit(1 if failed else 0)


if __name__ == "__main__":
    main()
