"""Checks of the answers that take seconds: budget, form, optimise, practice, and secondaries that are solved."""

from case import DEMOS, HUT, expect, parse, rows_of


def check_budget(case):
    reply = parse(case.run("budget", HUT, "--rays", 8000, "--json")[0])
    causes = {cause["cause"]: cause for cause in reply["causes"]}
    expect(len(causes) == 14, f"fourteen causes: {sorted(causes)}")
    for key in ("sun_size", "slope", "adjustment", "shading", "reflectance", "receiver_size"):
        expect(causes[key]["present"], f"the demo has {key}")
    expect(not causes["tracking"]["present"], "no tracking error was asked for")
    expect(causes["adjustment"]["gain_W"] > 10 * causes["adjustment"]["gain_error_W"], "its screws stand off")
    expect(reply["perfect_W"] > reply["power_receiver_W"] > 0, reply["perfect_W"])
    expect(0 < reply["merit"]["etendue_use"] < 1 and reply["merit"]["magnification"] > 1, reply["merit"])
    expect(reply["advice"] and "W more" in reply["advice"][0], reply["advice"])
    off = parse(case.run("budget", HUT, "--rays", 8000, "--sun-x-mrad", 3, "--workers", 2, "--json")[0])
    expect(next(c for c in off["causes"] if c["cause"] == "tracking")["present"], "the sun stands off")
    rows = rows_of(case.run("budget", HUT, "--rays", 8000, "--csv")[0])
    expect(len(rows) == 14 and "gain_W" in rows[0], rows[0])
    case.refuse("budget", HUT, "--rays", 0, says="--rays")
    case.refuse("budget", HUT, "--sun-x-mrad", 900, says="--sun-x-mrad")


def check_form(case):
    reply = parse(case.run("form", DEMOS / "kiln-yard.dish.json", "--json")[0])
    forms = [option["form"] for option in reply["options"]]
    expect(forms[:4] == ["as_is", "flat", "common_sphere", "common_paraboloid"] and forms[-1] == "own_piece", forms)
    expect(reply["options"][1]["moulds"] == 0 and reply["options"][2]["moulds"] == 1, "moulds are counted")
    expect(all(len(option["mould"]) == 24 for option in reply["options"]), "each facet has its mould")
    path = case.folder / "pieces.dish.json"
    case.run("form", DEMOS / "kiln-yard.dish.json", "--take", "own_piece", "--dish", path)
    case.run("check", path)
    taken = parse(case.run("form", path, "--json")[0])
    expect(abs(taken["options"][0]["power_receiver_W"] - reply["options"][-1]["power_receiver_W"]) < 0.01,
           "the taken forms give what was promised")
    expect(len(rows_of(case.run("form", HUT, "--csv")[0])) == 36, "a row for each facet")
    case.refuse("form", HUT, "--take", "wavy", "--dish", path, says="common_sphere")
    case.refuse("form", HUT, "--take", "flat", says="--dish")
    case.refuse("form", HUT, "--take", "groups", "--take-groups", 9, "--dish", path, says="--take-groups")


def check_optimise_aims(case):
    path = case.folder / "flat.dish.json"
    kiln = DEMOS / "kiln-yard.dish.json"
    reply = parse(case.run("optimise", kiln, "--limit-w-m2", 60_000, "--json", "--out", path)[0])
    expect(reply["what"] == "aims" and reply["within_limit"], reply["after"])
    expect(reply["after"]["most_flux_W_m2"] <= 60_000, reply["after"])
    expect(len(reply["aims"]) == 24, "an aim for each facet")
    traced = parse(case.run("trace", path, "--rays", 100_000, "--json")[0])
    expect(traced["peak_W_m2"] < 62_000, f"the trace agrees: {traced['peak_W_m2']}")
    expect(parse(path.read_text()) == reply["dish"], "the file is the reply's dish")
    case.refuse("optimise", kiln, "--limit-w-m2", 1000, says=["--limit-w-m2", "mean flux"])
    case.refuse("optimise", kiln, "--mean-concentration", 100, says="--what size")


def check_optimise_size(case):
    path = case.folder / "size.dish.json"
    kiln = DEMOS / "kiln-yard.dish.json"
    reply = parse(case.run("optimise", kiln, "--what", "size", "--mean-concentration", 40, "--json", "--out", path)[0])
    expect(abs(reply["after"]["mean_concentration"] - 40) < 0.2, reply["after"])
    traced = parse(case.run("trace", path, "--rays", 100_000, "--json")[0])
    expect(abs(traced["mean_concentration"] - 40) < 0.4, traced["mean_concentration"])
    case.refuse("optimise", kiln, "--what", "size", says="--mean-concentration")
    case.refuse("optimise", kiln, "--what", "size", "--mean-concentration", 1e6, says="thermodynamic limit")
    case.refuse("optimise", kiln, "--what", "size", "--mean-concentration", 40, "--focal-length-m", "3,1",
                says=["--focal-length-m", "smaller first"])


def check_new_solves_the_secondary(case):
    def secondary(*words):
        return parse(case.run("new", "--focal-length-m", 2, "--secondary", *words)[0])

    # p = (f - z_receiver) / (m + 1) before the focus, / (m - 1) beyond it.
    dish = secondary("hyperboloid", "--secondary-magnification", 4, "--receiver-z-mm", -200)
    expect(abs(dish["secondary"]["vertex_mm"][2] - 1560) < 1e-6, dish["secondary"])
    dish = secondary("ellipsoid", "--secondary-magnification", 5, "--receiver-z-mm", 0)
    expect(abs(dish["secondary"]["vertex_mm"][2] - 2500) < 1e-6, dish["secondary"])
    dish = secondary("hyperboloid", "--secondary-magnification", 4, "--secondary-z-mm", 1600)
    expect(abs(dish["receiver"]["centre_mm"][2]) < 1e-6, dish["receiver"])
    for form in ("sphere", "paraboloid"):
        dish = secondary(form, "--secondary-magnification", 3, "--secondary-place", "beyond-focus")
        expect(dish["secondary"]["vertex_mm"][2] > 2000, dish["secondary"])
    case.refuse("new", "--secondary", "flat", "--secondary-magnification", 3, says="--secondary-magnification")
    case.refuse("new", "--secondary", "hyperboloid", "--secondary-magnification", 3, "--secondary-z-mm", 2500,
                says=["--secondary-z-mm", "below the facets' focus"])
    case.refuse("new", "--secondary", "hyperboloid", "--secondary-magnification", 3, "--secondary-z-mm", 1500,
                "--receiver-z-mm", 0, says="3 of its numbers known")


# new ------------------------------------------------------------------------------------------


def check_practice(case):
    words = ["practice", HUT, "--trials", 4, "--rounds", 2, "--start-mrad", 3]
    reply = parse(case.run(*words, "--json", "--workers", 1)[0])
    expect(len(reply["rounds"]) == 2 and reply["trials"] == 4, reply)
    expect(0 < reply["rounds"][1]["rms_mrad"] < reply["start_mrad"], "rounds make it better")
    for workers in (2, 3):
        expect(parse(case.run(*words, "--json", "--workers", workers)[0]) == reply, "workers change nothing")
    rows = rows_of(case.run(*words, "--csv")[0])
    expect(len(rows) == 8 and "rms_mrad" in rows[0], rows[0])
    raw = parse(case.run("practice", HUT, "--start-between", "5,20", "--scheme", "look-back", "--trials", 2, "--json")[0])
    expect(raw["scheme"] == "look-back" and raw["rounds"][0]["photos"] == 1, raw)
    case.refuse("practice", HUT, "--scheme", "defocsu", says="defocus")
    case.refuse("practice", HUT, "--start-between", "5", says="--start-between")
    case.refuse("practice", HUT, "--trials", 0, says="--trials")
