#!/usr/bin/env python3
"""Runs clang-tidy over the sources of src/ that a build folder compiles: tidy.py BUILD [FILE...].

What a file was found clean with (its own text, its headers' texts and the settings) is remembered in the build folder, so
that only what has changed is looked at again.
"""
import concurrent.futures
import hashlib
import json
import os
import pathlib
import re
import shutil
import subprocess
import sys

INCLUDE = re.compile(r'^\s*#\s*include\s*"([^"]+)"', re.MULTILINE)


def closure(path, seen):
    """The file and all headers of ours that it reaches."""
    if path in seen or not path.exists():
        return
    seen.add(path)
    for header in INCLUDE.findall(path.read_text(encoding="utf-8")):
        closure(pathlib.Path("src", header), seen)


def stamp(path):
    files = set()
    closure(path, files)
    digest = hashlib.sha256(pathlib.Path(".clang-tidy").read_bytes())
    for each in sorted(files):
        digest.update(str(each).encode() + each.read_bytes())
    return digest.hexdigest()


def main():
    build = pathlib.Path(sys.argv[1])
    program = shutil.which("clang-tidy-14") or shutil.which("clang-tidy")
    commands = json.loads((build / "compile_commands.json").read_text())
    top = pathlib.Path.cwd()
    files = sorted({pathlib.Path(entry["file"]).relative_to(top) for entry in commands
                    if pathlib.Path(entry["file"]).is_relative_to(top / "src")})
    if len(sys.argv) > 2:
        files = [each for each in files if str(each) in sys.argv[2:]]
    remembered_path = build / "tidy-clean.json"
    remembered = json.loads(remembered_path.read_text()) if remembered_path.exists() else {}
    stamps = {str(each): stamp(each) for each in files}
    todo = [each for each in files if remembered.get(str(each)) != stamps[str(each)]]

    def look(path):
        return path, subprocess.run([program, "--quiet", "-p", str(build), "--extra-arg=-Wno-unknown-warning-option", str(path)],
                                    capture_output=True, text=True)

    faulty = 0
    with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as pool:
        for path, done in pool.map(look, todo):
            if done.returncode == 0:
                remembered[str(path)] = stamps[str(path)]
            else:
                faulty += 1
                print(done.stdout, done.stderr, sep="")
    remembered_path.write_text(json.dumps({name: mark for name, mark in sorted(remembered.items()) if name in stamps}))
    print(f"tidy: {len(files)} files, {len(todo)} looked at, {faulty} with faults")
    sys.exit(1 if faulty else 0)


main()
