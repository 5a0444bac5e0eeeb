#!/usr/bin/env python3
"""Checks the tree's files: length, file heads, what the top level holds, and that no registry host is named.

Tables of data (assets/, tests/fixtures/, tests/references/) may be longer.
"""
import pathlib
import re
import subprocess
import sys

LONGEST = 500
TOP = {"CMakeLists.txt", "README.md", "DEVELOPERS.md", "LICENSE", "src", "web", "shaders", "tests", "assets"}
CODE = {".h", ".cpp", ".mjs", ".js", ".py", ".sh", ".cmake", ".vert", ".frag", ".css"}
DATA = ("assets/", "tests/fixtures/", "tests/references/")
# Written in pieces, so that this file does not find itself.
HOSTS = re.compile("|".join(["deb" + r"\.debian", "ubuntu" + r"\.com", "npm" + "js", r"registry\." + "npm", "github" + r"\.com",
                             r"pypi\." + "org", "node" + "source", "js" + "delivr", "unp" + "kg"]))
LEFTOVERS = re.compile(r"\b(TO" + r"DO|FIX" + r"ME|XX" + r"X)\b")


def tracked():
    if not pathlib.Path(".git").exists():
        # An unpacked archive of the tree: everything but what is built.
        built = {"build", "__pycache__"}
        return sorted(str(path) for path in pathlib.Path(".").rglob("*") if path.is_file() and not built & set(path.parts))
    listed = subprocess.run(["git", "ls-files", "-co", "--exclude-standard"], capture_output=True, text=True, check=True)
    return sorted(name for name in listed.stdout.splitlines() if pathlib.Path(name).is_file())


def faults_of(name):
    top = name.split("/")[0]
    if top not in TOP and not top.startswith("."):
        yield f"{name}: the top level holds only {', '.join(sorted(TOP))} and dotfiles"
    path = pathlib.Path(name)
    if path.suffix in {".png", ".jpg", ".ttf", ".otf", ".wasm"} and not name.startswith(DATA):
        yield f"{name}: made files are not kept in the tree"
        return
    try:
        text = path.read_text(encoding="utf-8")
    except UnicodeDecodeError:
        if not name.startswith(DATA):
            yield f"{name}: is not UTF-8 text"
        return
    lines = text.splitlines()
    if path.suffix in CODE and not name.startswith(DATA) and len(lines) > LONGEST:
        yield f"{name}: {len(lines)} lines, more than {LONGEST}: split it by ideas"
    if name.startswith("src/") and path.suffix in {".h", ".cpp"} and not text.startswith("//"):
        yield f"{name}: the file's first lines must say what it is for"
    if path.suffix == ".h" and "#pragma once" not in text:
        yield f"{name}: a header needs #pragma once"
    for number, line in enumerate(lines, 1):
        if HOSTS.search(line):
            yield f"{name}:{number}: names a registry's host"
        if path.suffix in CODE and LEFTOVERS.search(line):
            yield f"{name}:{number}: unfinished work belongs in an issue"


def main():
    names = tracked()
    faults = [fault for name in names for fault in faults_of(name)]
    print("\n".join(faults) if faults else f"files: {len(names)} files are in order")
    sys.exit(1 if faults else 0)


main()
