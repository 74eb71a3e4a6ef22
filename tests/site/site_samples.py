"""Pages of the invented scenario, in the markup that writers and style sheet share."""

from dataclasses import replace

from specgen.site.page import MenuEntry, Page, Shell
from specgen.site.ready_html import read_page

NNBSP = "\u202f"


def value(number: str, unit: str = "", key: str = "") -> str:
    about = f' data-fact="{key}"' if key else ""
    behind = f'<span class="unit">{NNBSP}{unit}</span>' if unit else ""
    return f'<span class="value"{about}>{number}{behind}</span>'


def table(
    anchor: str, title: str, columns: list[str], rows: list[list[str]], note: str = ""
) -> str:
    head = "".join(
        f'<th scope="col"{" class=num" if n > 1 else ""}>{c}</th>' for n, c in enumerate(columns)
    ).replace("class=num", 'class="num"')
    body = ""
    for first, *others in rows:
        cells = "".join(
            f"<td{' class=' + chr(34) + 'num' + chr(34) if n else ''}"
            f' data-title="{columns[n + 1]}">{cell}</td>'
            for n, cell in enumerate(others)
        )
        body += f'<tr><th scope="row">{first}</th>{cells}</tr>\n'
    after = f'<p class="table-note">{note}</p>' if note else ""
    return (
        f'<figure class="table" id="{anchor}"><figcaption id="{anchor}-t">{title}</figcaption>'
        f'<div class="scroll" role="region" aria-labelledby="{anchor}-t" tabindex="0"><table>'
        f"<thead><tr>{head}</tr></thead>\n<tbody>{body}</tbody></table></div>{after}</figure>\n"
    )


def facts(title: str, entries: list[tuple[str, str]]) -> str:
    rows = "".join(f"<div><dt>{label}</dt><dd>{text}</dd></div>\n" for label, text in entries)
    return f'<dl class="facts" aria-label="{title}">{rows}</dl>\n'


def caution(subject: str, text: str) -> str:
    return (
        f'<aside class="caution" role="note" aria-label="Caution: {subject}">'
        f'<p class="caution-title">Caution: {subject}</p><p>{text}</p></aside>\n'
    )


def head(title: str, subtitle: str, meta: list[tuple[str, str]]) -> str:
    rows = "".join(f"<div><dt>{label}</dt><dd>{text}</dd></div>" for label, text in meta)
    return (
        f'<header class="document-head"><h1>{title}</h1><p class="subtitle">{subtitle}</p>'
        f'<dl class="meta">{rows}</dl></header>\n'
    )


def _box(kind: str, x: int, y: int, width: int, height: int, text: str, small: str = "") -> str:
    more = (
        f'<text class="label label-small" x="{x + 8}" y="{y + 32}" font-size="10">{small}</text>'
        if small
        else ""
    )
    return (
        f'<g class="box box-{kind}"><rect x="{x}" y="{y}" width="{width}" height="{height}"/>'
        f'<text class="label" x="{x + 8}" y="{y + 18}" font-size="12">{text}</text>{more}</g>\n'
    )


def _ribbon(kind: str, x: int, y: int, to: int, end: int, breadth: int) -> str:
    middle = (x + to) // 2
    return (
        f'<path class="ribbon ribbon-{kind}" stroke-width="{breadth}"'
        f' d="M{x} {y}C{middle} {y} {middle} {end} {to} {end}"/>\n'
    )


def picture() -> str:
    ribbons = "".join(
        (
            _ribbon("used", 330, 72, 470, 42, 16),
            _ribbon("used", 330, 102, 470, 112, 8),
            _ribbon("free", 330, 126, 470, 182, 4),
            _ribbon("unusable", 330, 292, 470, 252, 8),
        )
    )
    boxes = "".join(
        (
            _box("processor", 150, 40, 120, 110, "CPU1", "Corvane C32"),
            _box("memory", 10, 40, 100, 44, "DIMM A1", "64 GiB"),
            _box("memory", 10, 106, 100, 44, "DIMM B1", "64 GiB"),
            _box("empty", 150, 240, 120, 90, "CPU2", "empty"),
            _box("port", 290, 60, 40, 24, "P1"),
            _box("port", 290, 90, 40, 24, "P2"),
            _box("port", 290, 118, 40, 24, "P3"),
            _box("riser", 470, 20, 110, 44, "RISER A", "one tall slot"),
            _box("adapter", 620, 20, 150, 44, "SLOT 1", "network, 2 x 25 Gbit/s"),
            _box("bay", 470, 90, 110, 44, "BAY 0", "NVMe 3.2 TB"),
            _box("slot", 470, 160, 110, 44, "SLOT 2", "free"),
            _box("unusable", 470, 230, 170, 44, "SLOT 3", "needs CPU2"),
        )
    )
    return (
        '<figure class="picture" id="topology"><figcaption>Lanes of Lantern A</figcaption>'
        '<div class="drawing scroll" role="region"'
        ' aria-label="Lanes of Lantern A" tabindex="0">'
        '<svg viewBox="0 0 780 340" width="780" height="340" role="img"'
        ' aria-labelledby="topology-title"><title id="topology-title">Lanes of Lantern A</title>'
        f"{ribbons}{boxes}</svg></div>"
        '<details class="in-words"><summary>The figure in words</summary><p>CPU1 gives 16 lanes'
        " to SLOT 1 through RISER A and 8 lanes to BAY 0; 4 lanes to SLOT 2 are free. SLOT 3"
        " cannot be used, because CPU2 is empty.</p></details></figure>\n"
    )


def sheet(name: str = "Lantern A", drives: int = 8) -> str:
    bays = [
        [f"BAY {n}", "Tarn 320 mixed use", "NVMe", value("3.2", "TB"), value("8", "GB/s"), "hot"]
        for n in range(drives)
    ]
    slots = [
        ["SLOT 1", "full height", "x16", "x16", value("5.0"), "CPU1"],
        ["SLOT 2", "low profile", "x16", "x8", value("5.0"), "CPU1"],
        ["SLOT 3", "low profile", "x16", "–", "–", "CPU2, empty"],
    ]
    for row in slots:
        row[4] = row[4] if row[4] == "–" else value("32", "GT/s")
    power = [
        ["Processors", value("48", "W"), value("165", "W"), value("225", "W")],
        ["Memory", value("16", "W"), value("38", "W"), value("52", "W")],
        ["Drives", value("40", "W"), value("96", "W"), value("160", "W")],
        ["Total", value("148", "W"), value("365", "W"), value("534", "W", "power.maximum")],
    ]
    return (
        '<article class="document">'
        + head(
            name,
            "One rack unit for a weather station that keeps its own records for a season.",
            [
                ("Platform", "Lantern"),
                ("Order name", "lantern-a"),
                ("Edition", "2026-03"),
                ("Maker", "Quillmere Works"),
            ],
        )
        + "<p>Lantern A keeps a season of readings on mirrored drives and forwards them whenever"
        ' the line is up. It is the value build of the <a href="../platforms/lantern.html">Lantern'
        "</a> platform: one processor, so that the slots of the second stay unusable.</p>\n"
        + facts(
            "At a glance",
            [
                ("Processor", "1 of 2, Corvane C32"),
                ("Cores, threads", f"{value('32')}, {value('64')}"),
                ("Memory", value("512", "GiB", "memory.capacity")),
                ("Memory speed", value("5600", "MT/s")),
                ("Raw capacity", value("25.6", "TB")),
                ("Usable capacity", value("12.8", "TB")),
                ("Network", "2 ports of " + value("25", "Gbit/s")),
                ("Power, typical", value("365", "W")),
                ("Height", value("1", "U")),
                ("Mass", value("16.4", "kg")),
            ],
        )
        + '<h2 id="expansion">Expansion</h2>\n'
        + picture()
        + table("slots", "Slots", ["Slot", "Height", "Connector", "Lanes", "Rate", "Owner"], slots)
        + '<h2 id="storage">Storage</h2>\n'
        + table(
            "bays",
            "Bays",
            ["Bay", "Drive", "Protocol", "Capacity", "Peak rate", "Swap"],
            bays,
            "Capacity in decimal units, as drives are sold (IEC 80000-13 names the binary ones).",
        )
        + '<h2 id="power">Power</h2>\n'
        + table("power-table", "Draw by subsystem", ["Part", "Idle", "Typical", "Maximum"], power)
        + caution(
            "mains power",
            "Two supplies, two cords: unplug both before the cover comes off. Values are estimates"
            " from declared data; local codes and licensed practice come first.",
        )
        + '<h2 id="life">Life</h2>\n<ul><li>Drives are hot-swap.</li><li>Fans are cold-swap: power'
        " off first.</li></ul>\n</article>\n"
    )


def platform(name: str) -> str:
    builds = [
        [
            '<a href="../builds/lantern-a.html">Lantern A</a>',
            "records of a season",
            value("365", "W"),
        ],
        ['<a href="../builds/lantern-b.html">Lantern B</a>', "two processors", value("612", "W")],
    ]
    return (
        '<article class="document">'
        + head(
            name,
            f"The {name} platform, as Quillmere Works builds it.",
            [("Height", value("1", "U"))],
        )
        + '<h2 id="limits">Limits</h2>\n'
        + facts("Limits", [("Processors", "1 or 2"), ("Memory slots", value("32"))])
        + '<h2 id="builds">Builds</h2>\n'
        + table("builds-table", "Builds", ["Build", "For", "Typical draw"], builds)
        + '<h2 id="positions">Positions</h2>\n<p>Named as printed on the board.</p></article>\n'
    )


def part(name: str) -> str:
    used = [['<a href="../builds/lantern-a.html">Lantern A</a>', "BAY 0..7"]]
    return (
        '<article class="document">'
        + head(name, "A drive for mixed use.", [("Kind", "drive"), ("Order name", "tarn-320")])
        + facts("Values", [("Capacity", value("3.2", "TB")), ("Draw", value("20", "W"))])
        + '<h2 id="used">Where it is used</h2>\n'
        + table("used-table", "Builds with this part", ["Build", "Positions"], used)
        + "</article>\n"
    )


def start() -> str:
    rows = [
        [
            f'<a href="platforms/{name.lower()}.html">{name}</a>',
            what,
            value(units, "U"),
            sockets,
            value(memory, "TiB"),
        ]
        for name, what, units, sockets, memory in (
            ("Pocket", "short-depth edge node", "1", "1", "1"),
            ("Lantern", "value, one rack unit", "1", "2", "4"),
            ("Beacon", "the fuller sibling", "1", "2", "8"),
            ("Boathouse", "much storage", "2", "2", "8"),
            ("Capstan", "accelerators", "4", "2", "8"),
        )
    ]
    return (
        '<article class="document">'
        + head("Quillmere servers", "Five platforms for weather stations on the coast.", [])
        + "<p>Every value on these pages is computed from checked definitions, and can say where"
        " it comes from.</p>\n"
        + table("family", "The family", ["Platform", "For", "Height", "Sockets", "Memory"], rows)
        + "</article>\n"
    )


PLATFORMS = ("Pocket", "Lantern", "Beacon", "Boathouse", "Capstan")


def pages() -> tuple[Page, ...]:
    made = [
        Page("index.html", "Quillmere servers", "start", start(), "The family"),
        Page(
            "builds/lantern-a.html",
            "Lantern A",
            "builds",
            sheet(),
            "Records of a season",
            (("lantern-a Corvane C32", 8), ("25 Gbit/s NVMe mirrored", 3)),
        ),
        Page(
            "builds/lantern-b.html",
            "Lantern B",
            "builds",
            sheet("Lantern B", 40),
            "Two processors",
            (("lantern-b Corvane C32", 8),),
        ),
        Page(
            "parts/drives/tarn-320.html",
            "Tarn 320 mixed use",
            "parts",
            part("Tarn 320 mixed use"),
            "Drive, NVMe, 3.2 TB",
            (("tarn-320 drive", 9),),
        ),
    ]
    for name in PLATFORMS:
        path = f"platforms/{name.lower()}.html"
        made.append(Page(path, name, "platforms", platform(name), f"The {name} platform"))
    for path, section in (("platforms", "platforms"), ("builds", "builds"), ("parts", "parts")):
        body = (
            f'<article class="document">{head(section.capitalize(), "All of them.", [])}</article>'
        )
        made.append(Page(f"{path}/index.html", section.capitalize(), section, body))
    return tuple(replace(page, places=read_page(page.html()).places) for page in made)


def shell() -> Shell:
    children = tuple(
        MenuEntry(name, f"platforms/{name.lower()}.html", "platforms") for name in PLATFORMS
    )
    menu = (
        MenuEntry("Start", "index.html", "start"),
        MenuEntry("Platforms", "platforms/index.html", "platforms", children),
        MenuEntry("Builds", "builds/index.html", "builds"),
        MenuEntry("Parts", "parts/index.html", "parts"),
    )
    return Shell("Quillmere servers", "Quillmere Works", menu, "en", "Edition 2026-03")


def written_by_hand() -> Page:
    """A page that somebody has written."""
    body = '<h1 id="about-the-values">About the values</h1><p>Where they <em>come from</em>.</p>'
    words = (("About the values. Where they come from.", 1),)
    return Page("about.html", "About the values", "notes", body, "", words)
