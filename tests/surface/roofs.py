"""The table of roofs that a gang cuts, each made of blocks; made up by us, sizes in mm."""

from collections.abc import Mapping

from tests.surface.by_half_planes import Face, Roof

L_POINTS = {"A": (0, 0), "B": (9000, 0), "C": (9000, 6000), "D": (4000, 6000), "E": (4000, 10000), "F": (0, 10000)}
T_POINTS = {
    "A": (0, 0), "B": (12000, 0), "C": (12000, 6000), "D": (9000, 6000),
    "E": (9000, 10000), "F": (4000, 10000), "G": (4000, 6000), "H": (0, 6000),
}  # fmt: skip
U_POINTS = {
    "A": (0, 0), "B": (14000, 0), "C": (14000, 9000), "D": (10000, 9000),
    "E": (10000, 5000), "F": (3600, 5000), "G": (3600, 8000), "H": (0, 8000),
}  # fmt: skip
Z_POINTS = {
    "A": (0, 0), "B": (8000, 0), "C": (8000, 5000), "D": (12000, 5000),
    "E": (12000, 10000), "F": (4000, 10000), "G": (4000, 5000), "H": (0, 5000),
}  # fmt: skip
SQUARE = {"A": (0, 0), "B": (9000, 0), "C": (9000, 6000), "D": (0, 6000)}


def faces(*walls: tuple[str, float | str] | Face) -> list[Face]:
    return [wall if isinstance(wall, Face) else Face(wall[0][0], wall[0][1], wall[1]) for wall in walls]


def over(points: Mapping[str, tuple[float, float]], **blocks: list[Face]) -> Roof:
    return Roof(points, blocks)


CD_35 = Face("C", "D", 35)
HIPPED = faces(("AB", 35), ("BC", 35), ("CD", 35), ("DA", 35))

ROOFS: dict[str, Roof] = {
    "L": over(
        L_POINTS,
        main=faces(("AB", 40), ("BC", 40), ("CD", 40), ("FA", 40)),
        wing=faces(("AB", 40), ("DE", 40), ("EF", 40), ("FA", 40)),
    ),
    "L with a gable in line with the wing's eaves": over(
        {**L_POINTS, "G": (0, 6000)},
        main=faces(("AB", 40), ("BC", 40), ("CD", 40), Face("G", "A", "gable", same_as=Face("F", "G", 40))),
        wing=faces(("AB", 40), ("DE", 40), ("EF", "gable"), ("FG", 40)),
    ),
    "T": over(
        T_POINTS,
        main=faces(("AB", 35), ("BC", 35), ("CD", 35), Face("G", "H", 0, same_as=CD_35), ("HA", 35)),
        wing=faces(("AB", 35), ("DE", 35), ("EF", 35), ("FG", 35)),
    ),
    "U": over(
        U_POINTS,
        base=faces(("AB", 38), ("BC", 38), ("EF", 38), ("HA", 38)),
        right=faces(("AB", 38), ("BC", 38), ("CD", 38), ("DE", 38)),
        left=faces(("AB", 38), ("FG", 38), ("GH", "gable"), ("HA", 38)),
    ),
    "Z": over(
        Z_POINTS,
        lower=faces(("AB", 40), ("BC", 40), ("GH", 40), ("HA", 40)),
        upper=faces(("CD", 40), ("DE", 40), ("EF", 40), ("FG", 40)),
        middle=faces(("AB", 40), ("BC", 40), ("EF", 40), ("FG", 40)),
    ),
    "plates at two heights": over(
        SQUARE,
        main=[Face(wall[0], wall[1], 40, up=up) for wall, up in (("AB", 0), ("BC", 300), ("CD", 600), ("DA", 150))],
    ),
    "corners out of square, each slope with its own pitch": over(
        {"A": (0, 0), "B": (8500, -900), "C": (10_400, 4800), "D": (1200, 6900)},
        main=faces(("AB", 35), ("BC", 52), ("CD", 30), ("DA", 45)),
    ),
    "half-hip": over(
        SQUARE,
        main=faces(("AB", 45), ("BC", "gable"), Face("B", "C", 50, up=1500), ("CD", 45), ("DA", 45)),
    ),
    "mansard": over(
        SQUARE,
        main=faces(
            ("AB", 70), Face("A", "B", 30, up=2000), ("BC", "gable"), ("CD", 70), Face("C", "D", 30, up=2000),
            ("DA", "gable"),
        ),
    ),
    "gablet": over(
        SQUARE,
        main=faces(("AB", 40), ("BC", 40), ("CD", 40), ("DA", 40)),
        gablet=faces(("AB", 40), Face("B", "C", "gable", inset=2000), ("CD", 40), ("DA", 40)),
    ),
    "sprocketed eaves": over(
        {**SQUARE, "P": (0, -400), "Q": (9000, -400)},
        main=faces(("AB", 45), ("BC", "gable"), ("CD", 45), ("DA", "gable")),
        sprocket=faces(("PQ", 25), ("BC", "gable"), Face("C", "D", 45), ("DA", "gable")),
    ),
    "lean-to": over(
        {**SQUARE, "P": (2000, -2500), "Q": (7000, -2500), "R": (7000, 0), "S": (2000, 0)},
        main=[Face(wall[0], wall[1], 40, up=1500) for wall in ("AB", "BC", "CD", "DA")],
        lean=faces(("PQ", 20), ("QR", "gable"), Face("R", "S", "against", same_as=Face("A", "B", 40)), ("SP", "gable")),
    ),
    "pitched dormer": over(
        {**SQUARE, "P": (3500, 900), "Q": (5500, 900), "R": (5500, 3000), "S": (3500, 3000)},
        main=faces(("AB", 45), ("BC", "gable"), ("CD", 45), ("DA", "gable")),
        dormer=faces(("PQ", "gable"), Face("Q", "R", 40, up=1800), ("CD", 45), Face("S", "P", 40, up=1800)),
    ),
    "wing with higher plates": over(
        L_POINTS,
        main=faces(("AB", 40), ("BC", 40), ("CD", 40), ("FA", "gable")),
        wing=faces(Face("D", "E", 40, up=600), ("EF", "gable"), Face("F", "A", 40, up=600), ("AB", 40)),
    ),
    "splayed bay": over(
        {
            **SQUARE, "P": (3000, 6000), "Q": (6000, 6000), "R": (5000, 7200), "S": (4000, 7200),
        },
        main=faces(("AB", 40), ("BC", 40), ("CD", 40), ("DA", 40)),
        bay=faces(("QR", 40), ("RS", 40), ("SP", 40), ("AB", 40), ("BC", 40), ("DA", 40)),
    ),
}  # fmt: skip
