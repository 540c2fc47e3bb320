"""Sayings of makers, by the fence in which they stand: what is said, what it means, how it is
written. Each is a pattern with a group ``said``, a message, and what ``said`` becomes (None: no
words can be given); both texts may name the pattern's groups. The first that is found counts.
"""

from __future__ import annotations

from publisher.language.words import Mode

Saying = tuple[str, str, str | None]

_MUCH = r"(?P<much>(?:\d+\s+)?\d[\d./]*\s*[½⅓⅔¼¾⅛⅜⅝⅞]?\s*(?:mm|cm|in|pt))"
_MOST = r"(?P<most>\d[\d./ ]*\s*(?:mm|cm|in|pt))"
_ALONE = r"(?=\s*(?:,|\bby\b|$))"
_SHAPE = r"(?P<shape>rectangle|circle|ellipse|ring|polygon|star|half round|square|vee)"
_LABELS = r"across|wide|high|deep|long|side|radius|depth|width|height|length|diameter"
_LABEL = rf"(?P<label>{_LABELS})"
_BEFORE = rf"(?P<label>{_LABELS}|border|overlap|ease|taper|play|apart|short)"
_CALLED = rf"(?:called\s+)?(?P<name>(?!(?:called|{_LABELS})\b)[a-z](?:(?!\bcalled\b)[a-z ])*?)"
_NOTE_WORDS = r"(?P<what>[a-z]+(?:(?:,?\s+|[’'-])(?!x\b)[a-z]+)*)"

_INWARDS = (("top", "below"), ("bottom", "above"), ("left", "right of"), ("right", "left of"))

_STEP = (
    (
        r"^(?:fold|open|close|crease|push)\s[^,\"#]*?\w(?P<said>(?:,|\s+to|\s+at)?\s+)"
        r"(?<!\bby )(?=\d[\d.]*\s*degrees?\b)",
        "how far it goes is said with ‘by’",
        " by ",
    ),
    (
        r"\b(?P<said>(?:all|every|both)\s+(?:of\s+)?(?:the\s+)?(?P<what>[a-z]+?)s?)"
        r"(?=\s+of\b|\s+and\b|\s*,|\s*$)",
        "several of a kind are ‘each {what}’",
        "each {what}",
    ),
    (
        r"^turn\s+(?P<said>(?:the\s+)?(?!over\b)(?P<what>[^,\"#]+?)\s+over)\s*$",
        "the way stands first: ‘turn over {what}’",
        "over {what}",
    ),
    (
        r"^(?:fold|crease|open|close|press)\s+(?P<said>(?P<way>up|down|over|in|out|inwards?|outwards?"
        r"|together|forwards?|backwards?)\s+)(?!half\b)(?=\w)",
        "‘{way}’ is not said: the score says which way it goes",
        "",
    ),
    (
        r"^(?:fold|crease|press)\s[^,\"#]*?\w(?P<said>\s+in\s+half)\b",
        "say which panel moves: the one on this or that side of the fold",
        None,
    ),
    (
        rf"^(?:fold|crease|press)\s[^,\"#]*?\w(?P<said>\s+(?P<way>over|under|in|inwards?|outwards?)){_ALONE}",
        "‘{way}’ is not said: the score says which way it goes",
        "",
    ),
    (
        rf"^fold\s[^,\"#]*?\w(?P<said>\s+(?P<way>over|onto|on|against|to|behind|under)\s+[^,\"#]+?){_ALONE}",
        "a ‘fold’ line says only what moves: where it comes to lie, its score says",
        "",
    ),
    (
        r"^(?:hold|dry|press)\s[^\"#]*?\w(?P<said>\s+for\s+(?:about\s+)?)(?=[\d½¼¾⅓])",
        "how long it takes stands behind a comma, without ‘for’",
        ", ",
    ),
    (
        r"^(?!mount\b)\w+\s[^\"#]*?\w(?P<said>,?\s+(?:with|using)\s+(?P<what>[^,\"#]+?))\s*$",
        'what it is done with stands in quotation marks at the end: "{what}"',
        ' "{what}"',
    ),
    (r"\b(?P<said>on\s+to)\b(?!\s*\d)", "write it as ‘on’", "on"),
    (r"(?<!\d )\b(?P<said>in\s+to)\b(?!\s*\d)", "write it as one word: ‘into’", "into"),
)

_PIECE = (
    (
        r"^(?P<said>(?P<how>rounded|bevelled|scooped)\s+corners)\b",
        "a line begins with what is made: ‘corners {how}’",
        "corners {how}",
    ),
    (
        r"\bletters(?P<said>,?\s+)(?=[\"“])",
        "what letters say stands behind ‘saying’",
        ", saying ",
    ),
    (
        r"\bsaying\s+(?P<said>(?P<what>[^\",“”]+?))\s*(?=,|$)",
        "what letters say stands in quotation marks",
        '"{what}"',
    ),
    (
        r"^(?:score|slit|perforate|draw|engrave)\s+"
        r"(?P<said>(?P<way>across|down)\s+(?:the\s+)?middle)\b",
        "a line is said with ‘along’ and the way it runs",
        "along middle, {way}",
    ),
    *(
        (
            rf"\balong\s+(?P<said>{_MUCH}\s+from\s+(?:the\s+)?(?={side}\b))",
            f"a line so far in from the {side} is ‘{way}’ it",
            f"{{much}} {way} ",
        )
        for side, way in _INWARDS
    ),
    (
        r"^glue\b(?!.*\bface\b)[^\"#]*?\b(?P<said>on\s+(?:the\s+)?(?P<way>front|back))\s*(?=,|$)",
        "which side of the paper is said ‘on {way} face’",
        "on {way} face",
    ),
    (
        r"^(?:panel|edge|point)\s+[a-z][\w ]*?(?P<said>\s+)(?P<word>on|along|at)\b",
        "put a comma before ‘{word}’",
        ", ",
    ),
    (
        r"\b(?:mountain|valley)(?P<said>,?\s+(?:fold\s+)?(?:of\s+|at\s+|to\s+)?)"
        r"(?=\d[\d.]*\s*degrees?\b)",
        "how far a fold goes is said with ‘by’",
        " by ",
    ),
    (
        r"^form\s+[a-z][\w -]*?\w(?P<said>\s+)(?P<word>[a-z][\w-]*)\s*=",
        "put a comma before ‘{word}’",
        ", ",
    ),
    (
        r"^(?P<said>(?P<count>\d+)\s+(?P<head>window|notch|slit|join|cut|draw)(?:e?s)?\b,?\s*"
        r"(?P<rest>[^\"#\s][^\"#]*?))\s*$",
        "a line begins with what is made; how often stands behind it: ‘{count} times’",
        "{head} {rest}, {count} times",
    ),
    (
        r"\b(?P<said>evenly\s+(?:spaced|apart|distributed|spread|placed))\b",
        "‘evenly’ is enough",
        "evenly",
    ),
    (
        r"\b(?P<said>(?:in\s+(?:the\s+)?(?:very\s+)?(?:middle|cent(?:re|er))"
        r"|at\s+(?:the\s+)?cent(?:re|er)))\b",
        "that place is called ‘at middle’",
        "at middle",
    ),
    (
        r"(?P<said>(?P<much>\d[\d./ ]*\s*(?:mm|cm|pt))\s+from\s+(?:the\s+)?"
        r"(?P<side>top|bottom|left|right))\b(?!\s+to\b)",
        "so far from an edge is ‘{much} in from {side}’",
        "{much} in from {side}",
    ),
    (r"\b(?P<said>in\s+a\s+(?:row|line))\b", "a row goes ‘across’ or ‘down’", "across"),
    (
        r"\b(?P<said>aligned\s+(?:to|on|at|along|by))\b",
        "things are ‘aligned with’ one another",
        "aligned with",
    ),
    (
        rf"^\w+\s+(?P<said>{_SHAPE}\s+{_CALLED}\s+{_LABEL}"
        r"\s+(?P<much>\d[\d./]*)(?:\s*(?P<unit>mm|cm|in|pt))?)\b",
        "all that is said of it stands between commas: a measure, with its unit, before its word, "
        "a name behind ‘called’",
        "{shape}, {much} {unit} {label}, called {name}",
    ),
    (
        rf"(?P<said>\b(?<!called )(?<!(?:mm|cm|in|pt) ){_BEFORE}\s+(?:of\s+)?{_MUCH})",
        "a measure stands before its word: ‘{much} {label}’",
        "{much} {label}",
    ),
    (
        r"(?P<said>(?P<one>\d[\d./]*(?:\s*(?:mm|cm|in|pt))?)\s+by\s+(?P<other>\d[\d./]*\s*(?:mm|cm|in|pt)))\b",
        "the parts of a size are joined by x",
        "{one} x {other}",
    ),
)

_HEADER = (
    (
        r"^[^,]*[^,\d\s](?P<said>\s+in\s+)(?=\w)",
        "put a comma before the paper",
        ", in ",
    ),
    (
        r"^[^,]*?(?P<said>,?\s+(?:cut\s+)?(?:from|out\s+of|of|on)\s+)(?=[a-z])(?!.*\bin\b)",
        "the paper stands behind ‘in’",
        ", in ",
    ),
)

_SIZES = (
    (
        r"^variant\s+\w+(?P<said>\s+)(?P<word>[a-z][\w ]*?)\s*=",
        "a colon stands behind the name of a variant",
        ": ",
    ),
    (
        rf",\s*(?P<said>(?:between\s+)?{_MUCH}\s+(?:to|and)\s+{_MOST})",
        "the limits of a size are ‘from {much} to {most}’",
        "from {much} to {most}",
    ),
    (
        rf"(?P<said>min(?:imum)?\s+{_MUCH},?\s+(?:and\s+)?max(?:imum)?\s+{_MOST})",
        "the limits of a size are ‘from {much} to {most}’",
        "from {much} to {most}",
    ),
    (
        r"^[^,]*?\d\s*(?:mm|cm|in|pt|degrees)?\s+(?P<said>when)\b",
        "‘when’ belongs to a second value: ‘…, or 9 mm when …’",
        None,
    ),
    (
        rf"\d(?:\s*(?:mm|cm|in|pt|degrees?))?\s+(?P<said>\(\s*{_NOTE_WORDS}\s*\))\s*$",
        "what is printed beside a size stands in quotation marks",
        '"{what}"',
    ),
    (r"^[^=,:\"#]+?(?P<said>\s+(?:is|are))\s*=", "the equals sign is enough", ""),
    (r"^[^=,:\"#]+?(?P<said>\s+(?:is|are))\s(?!.*=)", "a size has an equals sign", " ="),
    (
        r"=[^,\"#]*?[^,\s](?P<said>\s+)(?P<word>from|or|else)\b",
        "put a comma before ‘{word}’",
        ", ",
    ),
)

_FITS = (
    (r"\b(?P<said>overlaps)\b", "one thing ‘reaches’ another by so much", "reaches"),
    (r"\b(?P<said>opens\s+flat)\b", "flat is ‘180 degrees’", "opens to 180 degrees"),
    (
        r"\b(?P<said>(?:(?:fits?|sits?|slips?|slides?|slots?)\s+(?:into|in)"
        r"|(?:fits?|sits?|slips?|slides?|goes)\s+(?:inside|within)))\b",
        "what is put into something ‘goes into’ it",
        "goes into",
    ),
    (
        r"\b(?P<said>(?:fits?|slips?|slides?|goes)\s+(?:over|on|onto|around|round))\b",
        "what is put over something ‘slides on’ it",
        "slides on",
    ),
    (
        r"\b(?P<said>lines\s+up\s+with|(?:is|lies)\s+(?:level|flush|in\s+line)\s+with)\b",
        "edges in one line are said to lie flush",
        "lies flush with",
    ),
    (
        r"\b(?P<said>(?:is|lies)\s+(?:inside|within))\b",
        "write it as ‘stays inside’",
        "stays inside",
    ),
    (r"\b(?P<said>hides)\b", "what hides another thing ‘covers’ it", "covers"),
    (
        r"\b(?P<said>folds\s+to|measures|closes\s+at)\b",
        "how large it is when closed is what it ‘closes to’",
        "closes to",
    ),
    (
        rf"\b(?P<said>by\s+{_MUCH})\s*$",
        "how much room there must be is said ‘with at least {much} to spare’",
        "with at least {much} to spare",
    ),
    (
        r"\bholds\s+(?P<said>(?P<count>\d+)\s+(?P<what>[a-z][\w ]*?))\s*(?=\bwith\b|,|$)",
        "what it holds is one thing: give {count} {what} together a size with a name of its own",
        None,
    ),
)

_SPOKEN = (
    (
        r"(?P<said>\s+(?:in|as)\s+(?:inch(?:es)?|mm|cm|millimet\w+))\s*$",
        "a size is printed in both units, the pattern's own first",
        "",
    ),
)

_NOTE = (
    (
        r"(?P<said>,)\s*[\"“][^\"”]*[\"”]\s*$",
        "no comma before what stands in quotation marks",
        "",
    ),
)

SAYINGS: tuple[tuple[tuple[Mode, ...], tuple[Saying, ...]], ...] = (
    (("step",), _STEP),
    (("piece",), _PIECE),
    (("header",), _HEADER),
    (("sizes",), _SIZES),
    (("fits",), _FITS),
    (("spoken",), _SPOKEN),
    (("sizes", "piece", "step", "fits"), _NOTE),
)
