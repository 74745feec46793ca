"""The one list of strings that have broken programs: every field and every paper meets them.

`FINE` is kept exactly as it is typed, `LINES` too where a field takes lines, `CHANGED` is kept as its
partner, `REFUSED` is refused beside its field.
"""

from tracker.records.text import LONGEST

FINE: tuple[str, ...] = (
    # markup of terminal programs
    "[/]",
    "[/",
    "[/b]",
    "[$primary]x[/]",
    "[@click=app.quit]x[/]",
    "[bold red]not bold[/bold red]",
    "[link=file:///etc/passwd]x[/link]",
    r"C:\[x]",
    r"\[x]\\",
    ":warning: &amp; <b>x</b>",
    # spreadsheets
    "=cmd|' /C calc'!A0",
    "+1",
    "-2+3",
    "@SUM(A1:A9)",
    '"; "',
    "a,b;c\u00a0d",
    # databases and searches
    "'; DROP TABLE card;--",
    'O\'Brien "Spark" `x`',
    "%_",
    "*",
    "NEAR(a b)",
    'folded:"x" OR -y^',
    "NULL",
    "None",
    "nan",
    "0",
    # paper templates, shells, paths, formats
    "{{x}}",
    "{0} {x!r} %s %(x)s ${x}",
    '#set page(width: 1pt) #image("/etc/passwd") $x$',
    "$(touch x) `touch x`",
    "../../x",
    "..\\..\\x",
    "/dev/null",
    "con.txt",
    "--help",
    "-",
    "&#x1F4A5; ]]> <!-- -->",
    "BEGIN:VEVENT;X=1:DTSTART",
    # scripts and signs
    "Zoë Ñandú Łódź Đorđe",
    "Ωμέγα Кабель 配線 全角Ａ 한국",
    "עברית עם 12 V וגם abc",
    "كهرباء الدراجة",
    "हिन्दी ก็ไม่",
    "👩🏽‍🔧🏍️ 🇮🇪",
    "\u1eb9\u0301\u0302 z\u0351\u0360\u0489",
    "zero\u200bwidth\u200djoined\u200cx",
    "left\u200eright\u200fmarks",
    "soft\u00adhyphen",
    "\ufb01ne Ⅻ ½ ² Å",
    "\U0001d400\U0001d401",
    "ı İ ß ſ K",
    "\ue000 private",
    "x" * 2000,
)
"""Each of them is its own NFC and has no blank at its ends."""

LINES: tuple[str, ...] = (
    "one\ntwo",
    "one\n\n\n[/]\ntwo",
    "\u2022 a\n\t\u2022 b",
    "From: x\n.\nTo: y",
    "\n".join("line" for _ in range(300)),
)

CHANGED: tuple[tuple[str, str], ...] = (
    ("Zoe\u0308", "Zo\u00eb"),
    ("\u212b", "\u00c5"),
    ("\u1112\u1161\u11ab", "\ud55c"),
    ("one\r\ntwo", "one\ntwo"),
    ("one\rtwo", "one\ntwo"),
    ("one\u2028two\u2029three", "one\ntwo\nthree"),
    ("  both ends \n", "both ends"),
    ("\ufeffpasted", "pasted"),
    ("\u200b \u2060", ""),
    ("\u00a0\u3000", ""),
)
"""(typed, kept where lines are taken)."""

REFUSED: tuple[str, ...] = (
    "a\x00b",
    "\x00",
    "\x1b[2J",
    "\x1b]0;title\x07",
    "c1\x9b31m",
    "nel\x85x",
    "\x85",
    "del\x7f",
    "bell\x07",
    "back\x08space",
    "\x0bup and down\x0c",
    "\x1fends\x1c",
    "lone\ud800surrogate",
    "\udcff",
    "over\u202eride",
    "embed\u202bded\u202c",
    "iso\u2066late\u2069",
    "not a character\ufffe",
    "\ufdd0",
    "\U0010ffff",
    "x" * (LONGEST + 1),
)

SHORT: tuple[str, ...] = tuple(text for text in FINE if len(text) <= 80)
"""What also fits a short field."""

PAIRS: tuple[tuple[str, str], ...] = (
    ("Zo\u00eb", "Zoe\u0308"),
    ("\u00c5se", "\u212bse"),
    ("\u1e69", "s\u0323\u0307"),
)
"""The same words composed and decomposed: found by either."""
