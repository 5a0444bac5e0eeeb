#!/usr/bin/env python3
"""Checks that every file of src/ includes only what its level may use.

A file includes its own folder and lower levels; folders on one level never include each other. JSON stays in files/ and
tasks/, Eigen in few files, ImGui and GL in page/, the Emscripten macro and headers in page/platform/ and worker/.
"""
import pathlib
import re
import sys

LEVELS = [
    ["base"],
    ["dish"],
    ["adjusters", "sky", "files"],
    ["optics", "photo"],
    ["align", "thermal", "tracking", "make"],
    ["naming"],
    ["practice"],
    ["tasks"],
    ["session", "cli"],
    ["page", "worker"],
]
LEVEL_OF = {room: level for level, rooms in enumerate(LEVELS) for room in rooms}

# Header pattern → folders (as path prefixes below src/) that may include it.
OUTSIDE = [
    (r"nlohmann/", ["files/", "tasks/"]),
    (r"Eigen/", ["optics/", "align/", "naming/", "thermal/", "tracking/"]),
    (r"(imgui|backends/)", ["page/"]),
    (r"(GLES|GL/|GLFW)", ["page/"]),
    (r"(jpeglib|png)\.h", ["cli/"]),
    (r"emscripten", ["page/platform/", "worker/"]),
    (r"(fstream|filesystem|unistd\.h|sys/)", ["cli/", "page/platform/", "worker/"]),
    (r"(thread|mutex|atomic|future|condition_variable)$", ["optics/", "cli/", "page/platform/"]),
]
MACRO_HOMES = ["page/platform/", "worker/"]
INCLUDE = re.compile(r'^\s*#\s*include\s*([<"])([^>"]+)[>"]')


def faults_of_include(path, number, quote, header):
    where = f"src/{path}:{number}"
    room = path.split("/")[0]
    target = header.split("/")[0]
    if quote == '"' and target in LEVEL_OF:
        same = target == room
        # Only the page's room shows a session; the native program goes by the tasks.
        if not same and LEVEL_OF[target] >= LEVEL_OF[room]:
            yield f"{where}: {room}/ must not include {header}: {target}/ is no lower level"
        if room == "cli" and target == "session":
            yield f"{where}: cli/ must not include {header}: they are on one level"
        if not pathlib.Path("src", header).exists():
            yield f"{where}: there is no src/{header}"
    elif quote == '"' and target != "embedded" and header != "embedded_shaders.h":
        yield f'{where}: "{header}" must be written from src/ on, as in "{room}/..."'
    for pattern, homes in OUTSIDE:
        if quote == "<" and re.match(pattern, header) and not any(path.startswith(home) for home in homes):
            yield f"{where}: <{header}> belongs in {', '.join(homes)} only"


def faults_of_file(file, path):
    if path.split("/")[0] not in LEVEL_OF:
        yield f"src/{path}: there is no level for this folder"
        return
    for number, line in enumerate(file.read_text(encoding="utf-8").splitlines(), 1):
        found = INCLUDE.match(line)
        if found:
            yield from faults_of_include(path, number, found.group(1), found.group(2))
        if re.search(r"__EMSCRIPTEN__", line) and not any(path.startswith(home) for home in MACRO_HOMES):
            yield f"src/{path}:{number}: the Emscripten macro belongs in {', '.join(MACRO_HOMES)} only"


def main():
    source = pathlib.Path("src")
    files = sorted(each for each in source.rglob("*") if each.suffix in (".h", ".cpp"))
    if not files:
        sys.exit("layers: no sources found; run this from the top of the tree")
    faults = [fault for file in files for fault in faults_of_file(file, file.relative_to(source).as_posix())]
    print("\n".join(faults) if faults else f"layers: {len(files)} files keep to their levels")
    sys.exit(1 if faults else 0)


main()
