"""The plain letters for a terminal that has no others."""

PLAIN = str.maketrans(
    {
        "·": "-",
        "–": "-",
        "—": "-",
        "…": "...",
        "°": " deg",
        "×": "x",
        "²": "2",
        "√": "v",
        "›": ">",
        "≥": ">=",
        "≤": "<=",
    }
)
