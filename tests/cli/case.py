"""One run of the program in a folder of its own, and what its answers are held against."""

import csv
import io
import json
import subprocess
from pathlib import Path

TOP = Path(__file__).resolve().parents[2]
DEMOS = TOP / "assets" / "demos"
HUT = DEMOS / "larch-refuge.dish.json"
MEGABYTE = 1_000_000


class Case:
    """One check's own folder and the program it runs."""

    def __init__(self, program, folder):
        self.program = program
        self.folder = Path(folder)

    def run(self, *words, text=None, code=0, cwd=TOP):
        """Runs the program; the exit code must be `code`."""
        data = text.encode() if isinstance(text, str) else text
        done = subprocess.run(
            [self.program, *map(str, words)], input=data, capture_output=True, cwd=cwd, timeout=300
        )
        out, err = done.stdout.decode(), done.stderr.decode()
        expect(done.returncode == code, f"exit {done.returncode}, not {code}: {words}\n{out[-800:]}{err[-2000:]}")
        return out, err

    def refuse(self, *words, says, text=None):
        """The program must refuse with exit 2, print no result, and say each of `says`."""
        out, err = self.run(*words, text=text, code=2)
        expect(out == "", f"a refused command printed a result: {words}\n{out[:500]}")
        for part in [says] if isinstance(says, str) else says:
            expect(part in err, f"the message lacks {part!r}: {words}\n{err[:2000]}")
        expect("\n\n" not in err and err.endswith("\n"), f"messages are lines: {err[:500]!r}")
        return err

    def file(self, name, content):
        path = self.folder / name
        path.write_bytes(content.encode() if isinstance(content, str) else content)
        return path


def expect(condition, sentence):
    if not condition:
        raise AssertionError(sentence)


def no_constants(name):
    raise AssertionError(f"{name} stands in the JSON")


def parse(text):
    """Strict JSON: no NaN, no Infinity, no key twice."""

    def once(pairs):
        keys = [key for key, _ in pairs]
        expect(len(keys) == len(set(keys)), f"a key stands twice: {keys}")
        return dict(pairs)

    return json.loads(text, parse_constant=no_constants, object_pairs_hook=once)


def rows_of(text):
    return list(csv.DictReader(io.StringIO(text)))


def edited_hut(case, name, edit):
    """The shipped dish with something changed."""
    dish = json.loads(HUT.read_text())
    edit(dish)
    return case.file(name, json.dumps(dish))


def mount_of(dish):
    return next(iter(dish["mounts"].values()))


# What the program says of itself --------------------------------------------------------------


def hut_ids():
    return [facet["id"] for facet in json.loads(HUT.read_text())["facets"]]


def spots_file(case, rows=None, name="spots.csv"):
    rows = rows or [(facet, 5.0 * (i % 7) - 15.0, 4.0 * (i % 5) - 8.0) for i, facet in enumerate(hut_ids())]
    lines = ["facet,right_mm,up_mm"] + [f"{facet},{right},{up}" for facet, right, up in rows]
    return case.file(name, "\n".join(lines) + "\n")
