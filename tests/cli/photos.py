"""Photos through the program: the sheet of marks, plain maps, JPEG and PNG, and files that are no photos."""

import struct
import zlib

from case import DEMOS, HUT, expect, hut_ids, parse, rows_of

WIDTH, HEIGHT = 700, 600
PX_PER_MM = 1.3
CIRCLES = {"target": (1.0, 0.78, 0.56, 0.28), "ring": (1.0, 0.6), "eye": (1.0, 0.7, 0.4)}
SPOTS = ((60.0, 40.0), (-80.0, -30.0), (10.0, -110.0))


def marks():
    x = y = 215 - 22.5
    yield "target", -x, y
    yield "ring", x, y
    for place in ((0, y), (x, 0), (x, -y), (0, -y), (-x, -y), (-x, 0)):
        yield ("eye", *place)


def soft(distance_mm):
    """An edge that is a pixel wide."""
    return min(max(0.5 - distance_mm * PX_PER_MM, 0.0), 1.0)


def srgb(light):
    return 12.92 * light if light <= 0.0031308 else 1.055 * light ** (1 / 2.4) - 0.055


CODES = [round(255 * srgb(k / 4000)) for k in range(4001)]


def code(light):
    return CODES[min(round(4000 * light), 4000)]


class Board:
    """A board of 430 mm face on, 8-bit grey, with soft edges."""

    def __init__(self):
        self.light = [[0.05] * WIDTH for _ in range(HEIGHT)]
        for row in range(HEIGHT):
            up = (HEIGHT / 2 - row - 0.5) / PX_PER_MM
            for column in range(WIDTH):
                right = (column + 0.5 - WIDTH / 2) / PX_PER_MM
                if abs(right) < 215 and abs(up) < 215:
                    self.light[row][column] = 0.15
        for kind, right, up in marks():
            for row, column, distance in self.places(right, up, 15):
                black = sum((-1) ** k * soft(distance - 15 * share) for k, share in enumerate(CIRCLES[kind]))
                self.light[row][column] *= 1 - 0.93 * black
        self.codes = [bytearray(map(code, row)) for row in self.light]

    def places(self, right, up, radius):
        """Pixels around a place, each with its distance from it in mm."""
        c, r = WIDTH / 2 + right * PX_PER_MM, HEIGHT / 2 - up * PX_PER_MM
        reach = int(radius * PX_PER_MM) + 2
        for row in range(int(r) - reach, int(r) + reach + 1):
            for column in range(int(c) - reach, int(c) + reach + 1):
                yield row, column, ((column + 0.5 - c) ** 2 + (row + 0.5 - r) ** 2) ** 0.5 / PX_PER_MM

    def photographed(self, spots):
        """With spots (right, up, share of the usual light) on it; rows of bytes."""
        added = {}
        for right, up, share in spots:
            if share == 0.0:
                continue
            for row, column, distance in self.places(right, up, 12):
                added[row, column] = added.get((row, column), 0.0) + 0.2 * share * soft(distance - 11.5)
        rows = [bytearray(row) for row in self.codes]
        for (row, column), light in added.items():
            rows[row][column] = code(self.light[row][column] + light)
        return [bytes(row) for row in rows]


def picture(spots=SPOTS):
    return Board().photographed([(right, up, 1.0) for right, up in spots])


def pgm(rows):
    return b"P5 %d %d 255\n" % (len(rows[0]), len(rows)) + b"".join(rows)


def png(rows):
    def chunk(kind, data):
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    header = struct.pack(">IIBBBBB", len(rows[0]), len(rows), 8, 0, 0, 0, 0)
    body = zlib.compress(b"".join(b"\0" + row for row in rows))
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", body) + chunk(b"IEND", b"")


def expect_spots(found):
    expect(len(found) == len(SPOTS), f"{len(found)} spots")
    for right, up in SPOTS:
        near = min(((float(s["right_mm"]) - right) ** 2 + (float(s["up_mm"]) - up) ** 2) ** 0.5 for s in found)
        expect(near < 0.1, f"no spot at {right}, {up} mm: {found}")


def check_board_sheet(case):
    sheet = case.folder / "board.html"
    case.run("board", "--board-size-mm", "430,430", "--out", sheet)
    expect(sheet.read_text().count("<circle") == 24, "eight marks of two to four circles")
    case.refuse("board", says="--board-size-mm: missing")
    case.refuse("board", "--board-size-mm", "430,4", says="--board-size-mm")
    case.refuse("board", "--board-size-mm", "430,430", "--mark-mm", "100", says="--mark-mm")


def check_spots_of_a_photo(case):
    rows = picture()
    photo = case.file("lit.pgm", pgm(rows))
    covered = case.file("covered.pgm", pgm(picture(())))
    out, _ = case.run("spots", photo, "--board-size-mm", "430,430", "--json")
    one = parse(out)["photos"][0]
    expect(len(one["marks"]) == 8, one)
    expect_spots(one["spots"])
    out, _ = case.run("spots", photo, "--board-size-mm", "430,430", "--reference", covered, "--csv")
    expect(out.startswith("facet,right_mm,up_mm,sigma_mm\n"), out)
    expect_spots(rows_of(out))
    out, _ = case.run("spots", photo, "--board-size-mm", "430,430")
    expect("8 of 8" in out, out)
    again, _ = case.run("spots", "-", "--board-size-mm", "430,430", "--json", text=pgm(rows))
    expect(parse(again)["photos"][0]["spots"] == one["spots"], "standard input gives the same")
    packed = case.file("lit.png", png(rows))
    out, _ = case.run("spots", packed, "--board-size-mm", "430,430", "--json")
    expect(parse(out)["photos"][0]["spots"] == one["spots"], "a PNG holds the same pixels")


def check_names_of_a_photo(case):
    photo = DEMOS / "larch-refuge-board.png"
    sides = ("--board-size-mm", "430,430")
    spots, _ = case.run("spots", photo, *sides, "--dish", HUT, "--before-focus-mm", "400")
    expect(sorted(row["facet"] for row in rows_of(spots)) == sorted(hut_ids()), "every facet has a spot")
    # What it prints is what align takes: the board stands 400 mm before the focus, lit from below.
    table = case.file("named.csv", spots)
    out, _ = case.run("align", HUT, "--spots", table, "--board-mm", "0,0,1600", "--without-secondary", "--json")
    expect(len(parse(out)["facets"]) == 36, "every spot becomes turns")
    case.refuse("spots", photo, *sides, "--dish", HUT, "--before-focus-mm", "5000", says="--before-focus-mm")


def check_photos_that_are_none(case):
    def refuse(name, content, says):
        case.refuse("spots", case.file(name, content), "--board-size-mm", "430,430", says=says)

    rows = picture(())
    whole = png(rows)
    refuse("a.jpg", b"", "an empty file")
    refuse("b.jpg", b"hello there", "no photo of a kind that is known")
    refuse("c.heic", b"\0\0\0\x18ftypheic" + bytes(40), "HEIF")
    refuse("d.png", whole[: len(whole) // 2], "a PNG that cannot be read")
    refuse("e.png", png([b"\x80"]), "1 x 1 pixels")
    refuse("f.pgm", pgm(rows)[:-1], "cut short")
    refuse("g.jpg", b"\xff\xd8\xff\xe0" + bytes(60), "a JPEG that cannot be read")
    # A heading that promises 60000 x 60000 pixels and holds none.
    tall = b"\xff\xd8\xff\xc0\0\x0b\x08" + struct.pack(">HH", 60000, 60000) + b"\x01\x01\x11\0"
    refuse("h.jpg", tall + b"\xff\xda\0\x08\x01\x01\0\0\x3f\0" + bytes(20), "at most 120 million pixels")
    refuse("i.pgm", b"P5 9000 7000 255\n" + bytes(5), "cut short")
    refuse("j.pgm", pgm([b"\x80" * 200] * 200), "no mark of the board")
    refuse("k.pgm", pgm([b"\xff" * 200] * 200), "overexposed")
