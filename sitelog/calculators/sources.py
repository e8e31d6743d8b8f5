"""What each figure of an answer rests on, as rows beside it."""

from sitelog.calculators.catalogue import Output

# `figure` is the key of a result, `standing` is "read" or "memory".
SOURCES = Output(
    "sources",
    "",
    "where each figure comes from",
    (
        Output("figure", "", "figure"),
        Output("source", "", "source"),
        Output("standing", "", "standing"),
    ),
)
