"""The sheet of cases worked by hand, carried on over curved work, decks, gutters and their linings.

Where it can be, the figures are 3-4-5 triangles and their kin, so that the working needs no calculator at all.
"""

from tests.calculators.by_hand import Case

CURVES = (
    Case(
        "a door head 2400 wide that rises 600: centre, crown and end make a 3-4-5 triangle",
        "arc chord=2400 rise=600 spacing=300",
        """
        radius: (1200 ** 2 + 600 ** 2) / (2 * 600) = 1500 -> radius +- 0.001
        centre below the chord: 1500 - 600 = 900 -> centre_below_chord +- 0.001
        half the angle: atan(1200 / 900) = 53.130
        the whole of it: 2 * 53.130 = 106.260 -> angle +- 0.001
        along the arc: 2 * 3.14159 * 1500 * 106.260 / 360 = 2781.88 -> arc_length +- 0.02
        900 off the middle, 3-4-5 again: sqrt(1500 ** 2 - 900 ** 2) - 900 = 300 -> rows.300.0.height +- 0.001
        600 off the middle: sqrt(1500 ** 2 - 600 ** 2) - 900 = 474.8 -> rows.600.0.height +- 0.1
        sector less triangle, m2: (1.5 * 2.78188 - 2.4 * 0.9) / 2 = 1.0064 -> area +- 0.0001
        """,
    ),
    Case(
        "an arc by radius and chord, 7-24-25 drawn large: 420, 1440, 1500",
        "arc chord=840 radius=1500 count=2",
        """
        centre below the chord: sqrt(1500 ** 2 - 420 ** 2) = 1440 -> centre_below_chord +- 0.001
        rise: 1500 - 1440 = 60 -> rise +- 0.001
        the middle mark: 840 / 2 = 420
        and its height: 60 - 0 = 60 -> rows.420.0.height +- 0.001
        """,
    ),
    Case(
        "ribs of a half circle, 75 deep, out of 150 boards",
        "rib radius=900 depth=75 board=150",
        """
        half of the largest: acos((900 - 150) / (900 - 75)) = 24.620
        the largest: 2 * 24.620 = 49.240 -> segment_angle +- 0.002
        so many: 180 / 49.240 = 3.66
        made up to four, each: 180 / 4 = 45 -> angle_each +- 0.001
        mitre: 45 / 2 = 22.5 -> mitre_from_square +- 0.001
        outside chord: 2 * 900 * sin(22.5) = 688.8 -> chord_out +- 0.1
        inside chord: 2 * 825 * sin(22.5) = 631.4 -> chord_in +- 0.1
        of the board: 900 - 825 * cos(22.5) = 137.8 -> board_used +- 0.1
        half a segment, outside: 3.1416 * 900 / 8 = 353.4 -> lap_length +- 0.1
        two layers: 2 * 4 = 8 -> pieces +- 0
        board, m: 8 * 0.6888 = 5.51 -> board_length +- 0.01
        """,
    ),
    Case(
        "a half round dormer of 900 on a roof of 40",
        "barrel radius=900 pitch=40 sheet=18",
        """
        up the slope: 900 / sin(40) = 1400.15 -> semi_axis_up_slope +- 0.01
        back: 900 / tan(40) = 1072.58 -> ridge_back +- 0.01
        inside the sheet: 900 - 18 = 882
        its crown, up the slope: 882 / sin(40) = 1372.15 -> inner_rows.900.0.along_slope +- 0.01
        500 off the middle: sqrt(900 ** 2 - 500 ** 2) = 748.3 -> rows.400.0.height +- 0.1
        """,
    ),
    Case(
        "the same on a slope of 3 in 4, where all is 3-4-5",
        "barrel radius=900 pitch=3/4 spacing=540 sheet=18 deck=18 inside=100 below=150",
        """
        up the slope: 900 * 5 / 3 = 1500 -> semi_axis_up_slope +- 0.001
        back: 900 * 4 / 3 = 1200 -> ridge_back +- 0.001
        540 off the middle: sqrt(900 ** 2 - 540 ** 2) = 720 -> rows.360.0.height +- 0.001
        that up the slope: 720 * 5 / 3 = 1200 -> rows.360.0.along_slope +- 0.001
        and back: 720 * 4 / 3 = 960 -> rows.360.0.back +- 0.001
        inside the sheet there: sqrt(882 ** 2 - 540 ** 2) = 697.4 -> inner_rows.360.0.height +- 0.1
        under the main sheet, further up: 18 * 4 / 3 = 24 -> deck_shift +- 0.001
        so there: 1200 + 24 = 1224 -> lower_rows.360.0.along_slope +- 0.001
        too low by the thickness alone: 18 - 24 = -6 -> off_if_thickness_added +- 0.001
        saw, by cosines of both slopes: asin(0.8 * 720 / 900) = 39.792 -> rows.360.0.back_cut_from_square +- 0.001
        its crown, inside: 800 * 5 / 3 + 150 * 4 / 3 = 1533.3 -> ceiling_rows.900.0.along_slope +- 0.1
        """,
    ),
    Case(
        "a flatter head, 1600 wide and 400 high, on 3 in 4",
        "barrel chord=1600 rise=400 pitch=3/4 spacing=600",
        """
        radius: (800 ** 2 + 400 ** 2) / 800 = 1000 -> semi_axis_across +- 0.001
        centre below the springing: 1000 - 400 = 600
        down the slope: 600 * 5 / 3 = 1000 -> centre_down_slope +- 0.001
        crown up the slope: 400 * 5 / 3 = 666.7 -> ridge_up_slope +- 0.1
        600 off the middle, 3-4-5: sqrt(1000 ** 2 - 600 ** 2) - 600 = 200 -> rows.200.0.height +- 0.001
        that far back: 200 * 4 / 3 = 266.7 -> rows.200.0.back +- 0.1
        """,
    ),
    Case(
        "its head as cut, read at 600 each side of the middle: 3-4-5 throughout",
        "ordinates chord=1600 rise=400 spacing=600 readings=203,400,199 tolerance=5",
        """
        radius: (800 ** 2 + 400 ** 2) / 800 = 1000
        600 off the middle: sqrt(1000 ** 2 - 600 ** 2) - 600 = 200 -> rows.200.0.worked +- 0.001
        left end to that mark: 800 - 600 = 200 -> station +- 0.001
        read less worked: 203 - 200 = 3 -> worst +- 0.001
        steep there as 3 in 4: 600 / 800 = 0.75
        good to: 2 * sqrt((1 + 0.75 ** 2) / 3) = 1.443 -> uncertainty +- 0.001
        so proved: 5 - 1.443 = 3.557
        """,
        verdict="pass",
    ),
    Case(
        "its line on both edges of a rafter 80 thick, on 3 in 4",
        "slope-marks chord=1600 rise=400 pitch=3/4 first=200 spacing=600 thickness=80",
        """
        left edge off the middle: 800 - 200 + 40 = 640
        its height: sqrt(1000 ** 2 - 640 ** 2) - 600 = 168.4
        up the slope: 168.4 * 5 / 3 = 280.7 -> rows.1.left +- 0.2
        right edge off the middle: 640 - 80 = 560
        its height: sqrt(1000 ** 2 - 560 ** 2) - 600 = 228.5
        up the slope: 228.5 * 5 / 3 = 380.8 -> rows.1.right +- 0.2
        across the rafter: 380.8 - 280.7 = 100.1
        from square: atan(100.1 / 80) = 51.37 -> steepest_bevel_from_square +- 0.1
        crown: 400 * 5 / 3 = 666.7 -> crown_up +- 0.1
        """,
    ),
    Case(
        "an eyebrow 3000 wide and 600 high, crown and wings alike",
        "eyebrow width=3000 rise=600 split=0.5 pitch=55 spacing=250",
        """
        half the tangent's angle: atan(600 / 1500) = 21.8014
        the angle: 2 * 21.8014 = 43.603 -> tangent_angle +- 0.001
        crown: 750 / sin(43.603) = 1087.50 -> crown_radius +- 0.01
        wing: 750 / sin(43.603) = 1087.50 -> wing_radius +- 0.01
        500 off the middle: 600 - (1087.5 - sqrt(1087.5 ** 2 - 500 ** 2)) = 478.2 -> rows.1000.0.height +- 0.1
        500 in from the end: 1087.5 - sqrt(1087.5 ** 2 - 500 ** 2) = 121.8 -> rows.500.0.height +- 0.1
        back from there: 121.8 / tan(55) = 85.3 -> rows.500.0.back +- 0.1
        """,
    ),
    Case(
        "an eyebrow 500 high, which is 3-4-5 again, with a quarter of it in the crown",
        "eyebrow width=3000 rise=500 split=0.25",
        """
        half the tangent's angle has tangent 1 in 3, so its double: atan(2 / 3 / (1 - 1 / 9)) = 36.870
        which is 3 in 4: atan(3 / 4) = 36.870 -> tangent_angle +- 0.001
        crown: 375 * 5 / 3 = 625 -> crown_radius +- 0.001
        wing: 1125 * 5 / 3 = 1875 -> wing_radius +- 0.001
        height where they meet: 1875 * (1 - 4 / 5) = 375 -> tangent_height +- 0.001
        and from the crown: 500 - 625 * (1 - 4 / 5) = 375
        """,
    ),
    Case(
        "three bearers of 56 over a half round of 1000, run back to a roof of 3 in 4",
        "formers radius=1018 sheet=18 bearer=56x100 former=200 lining=20 count=3 pitch=3/4 face=100 board=350",
        """
        over the bearers: 1018 - 18 = 1000 -> bearer_radius +- 0.001
        ceiling: 1000 - 200 - 20 = 780 -> ceiling_height +- 0.001
        girth: 3.14159 * 1000 = 3141.59 -> girth +- 0.01
        between first and last: 3141.59 - 2 * 28 = 3085.59
        centres: 3085.59 / 2 = 1542.80 -> centres +- 0.01
        top of the crown's: sqrt(1000 ** 2 - 28 ** 2) = 999.61 -> bearers.2.height +- 0.01
        back to the slope: 999.61 * 4 / 3 + 100 = 1432.81 -> bearers.2.length_top +- 0.01
        its end, plumb, from square: atan(4 / 3) = 53.13 -> bearers.2.side_cut_from_square +- 0.01
        under its slot: 999.61 - 100 - 800 = 99.61 -> left_under_slot +- 0.01
        mitres, half the turn: 1542.80 / 1000 / 2 * 180 / 3.14159 = 44.198 -> noggins.1.left_mitre_from_square +- 0.001
        largest piece, halved: acos((1000 - 350) / 800) = 35.659
        in a layer: 90 / 35.659 = 2.52
        so three of: 180 / 3 = 60 -> angle_each +- 0.001
        of its board: 1000 - 800 * cos(30) = 307.18 -> board_used +- 0.01
        """,
    ),
    Case(
        "the ceiling of a half round dormer run into a roof of 3 in 4, where all is 3-4-5",
        "soffit radius=900 sheet=15 former=70 lining=15 pitch=3/4 rafter=150 trimmer=48 stance=plumb",
        """
        ceiling over the springing: 900 - 15 - 70 - 15 = 800 -> soffit_height +- 0.001
        rafters' tops, up the slope: 800 * 5 / 3 = 1333.3 -> top_along +- 0.1
        and level back: 800 * 4 / 3 = 1066.7 -> top_back +- 0.1
        undersides further up: 150 * 4 / 3 = 200
        undersides: 1333.3 + 200 = 1533.3 -> underside_along +- 0.1
        the face plumb over that: 150 * 3 / 4 = 112.5
        on the top edge: 1533.3 + 112.5 = 1645.8 -> faces.0.top_along +- 0.1
        each layer up the slope: 48 * 5 / 4 = 60
        back of the second: 1645.8 + 2 * 60 = 1765.8 -> faces.2.top_along +- 0.1
        """,
    ),
    Case(
        "its bulkhead, a ceiling of 1000 in two steps of which the lower is 600: 3-4-5 again",
        "bulkhead radius=1000 pitch=3/4 rafter=150 heights=1000,600 spacing=800 trimmer=50",
        """
        the ceiling at 600 is off the middle: sqrt(1000 ** 2 - 600 ** 2) = 800
        the crown's trimmer: 2 * 800 = 1600 -> trimmers.1.length +- 0.001
        its front, up the slope: 1000 * 5 / 3 + 150 * 4 / 3 = 1866.7 -> trimmers.1.under_along +- 0.1
        the lower, each side: 1000 - 800 = 200
        its front: 600 * 5 / 3 + 200 = 1200
        rafter between: 1866.7 - 1200 - 2 * 50 = 566.7
        first hanger: 1000 - 600 = 400 -> hangers.1.length +- 0.001
        its foot: asin(800 / 1000) = 53.13 -> hangers.1.foot_cut_from_square +- 0.01
        """,
    ),
    Case(
        "19 mm of ply over ribs of 1 m: the printed radii are in feet, 12 for 3/4 in and 3 for 3/8",
        "sheet-bend radius=1000 thickness=19 grain=across",
        """
        one sheet: 12 * 304.8 = 3657.6 -> minimum_radius +- 3
        two of 3/8: 2 * 9.525 = 19.05
        each: 19 / 2 = 9.5 -> layer_thickness +- 0.001
        goes round: 3 * 304.8 = 914.4 -> layer_minimum_radius +- 1
        """,
        "fail",
    ),
)

DECKS = (
    Case(
        "a deck 3.6 m down the fall at 1 in 40, 4.8 m wide, joists at 400",
        "firrings span=3600 fall=1:40 thin=20 length=4800",
        """
        rise: 3600 / 40 = 90
        thick end: 90 + 20 = 110 -> thick_end +- 0.001
        thin end: 110 - 90 = 20 -> thin_end +- 0.001
        bays between joists flush with the ends: (4800 - 47) / 400 = 11.88
        made up to twelve, a joist more: 12 + 1 = 13 -> count +- 0
        """,
    ),
    Case(
        "the same across the joists, 3 m at 1 in 60 every 500",
        "firrings span=3000 fall=1:60 thin=38 spacing=500 laid=across",
        """
        so many: 3000 / 500 + 1 = 7 -> count +- 0
        third of them, 1 m up: 38 + 1000 / 60 = 54.7 -> rows.3.thickness +- 0.1
        last: 38 + 3000 / 60 = 88 -> rows.7.thickness +- 0.001
        """,
    ),
    Case(
        "a deck 6 m by 3.6 m that falls to all four edges at 1 in 60",
        "hipped-falls length=6000 width=3600 fall=1:60 thin=20 spacing=600",
        """
        edge to ridge: 3600 / 2 = 1800
        rise: 1800 / 60 = 30
        centre: 20 + 30 = 50 -> centre_height +- 0.001
        ridge: 6000 - 3600 = 2400 -> ridge_length +- 0.001
        diagonal on plan: 1800 * 1.41421 = 2545.58 -> diagonal +- 0.01
        along its top: hypot(2545.58, 30) = 2545.76 -> diagonal_length +- 0.01
        its pitch: atan(30 / 2545.58) = 0.6752
        backing, whose tangent is the sine of that: atan(sin(0.6752)) = 0.675 -> diagonal_backing +- 0.001
        dropped instead, half of 47 over root 2 at 1 in 60: 23.5 * 0.7071 / 60 = 0.28 -> diagonal_drop +- 0.01
        first firring, 600 along, to its long point: 600 - 47 * 0.7071 + 23.5 = 590.3 -> rows.1.cut_length +- 0.1
        thick there: 20 + 590.3 / 60 = 29.84 -> rows.1.thick_end +- 0.01
        a full one: 20 + 1800 / 60 = 50 -> rows.4.thick_end +- 0.001
        """,
    ),
    Case(
        "a parapet gutter of 6 m in lead, code 7 at bays of 2.5 m, with 70 m2 of roof at 150 mm an hour",
        "gutter length=6000 fall=1:80 metal=lead code=7 sole=300 depth=150 roof_area=70 rainfall=0.042",
        """
        bays: 6000 / 2500 = 2.4
        made up to three, each: 6000 / 3 = 2000 -> bay_length +- 0.001
        up one bay: 2000 / 80 = 25 -> levels.1.foot +- 0.001
        up the drip: 25 + 50 = 75 -> levels.1.top +- 0.001
        up the next bay: 75 + 25 = 100 -> levels.2.foot +- 0.001
        head: 3 * 25 + 2 * 50 = 175 -> rise +- 0.001
        depth at the outlet: 150 + 175 = 325 -> depth_outlet +- 0.001
        water, less three tenths: 150 - 0.3 * 150 = 105 -> water_depth +- 0.001
        water depths long: 6000 / 105 = 57.1
        so it keeps, of 7 in a hundred lost by 100: 1 - 0.07 * (57.1 - 50) / 50 = 0.990
        its shape keeps: (105 / 300) ** 0.25 = 0.769
        water's section to the power 1.25: 31500 ** 1.25 = 419651
        it carries: 0.9 * 3.89e-5 * 419651 * 0.769 * 0.990 = 11.19 -> capacity +- 0.02
        what comes: 70 * 0.042 = 2.94 -> flow +- 0.001
        """,
        "pass",
    ),
    Case(
        "air for a cold roof of 40 degrees, 9 m of eaves: 10 mm low and 5 mm high",
        "ventilation kind=cold-pitched pitch=40 span=8000 length=9000",
        """
        each eaves, m2: 0.010 * 9 = 0.09 -> eaves_area +- 0.0001
        ridge, m2: 0.005 * 9 = 0.045 -> high_area +- 0.0001
        which is half as much: 10 / 2 = 5 -> high_gap +- 0.001
        """,
    ),
    Case(
        "a deck of 14 by 6 m in 18 mm boards for resin: 2 mm a metre is over the manual's 25 at the walls",
        "deck-boards length=6000 width=14000 under=resin",
        """
        at the walls: 14 * 2 = 28 -> wall_gap +- 0.001
        a fixing, board and joist: 18 + 40 = 58 -> fixing_length +- 0.001
        both ways as far apart: 1000 / 5 = 200 -> edge_centres +- 0.001
        """,
    ),
)

LININGS = (
    Case(
        "a slope of 30 in lead, code 6, 4 m down and 2.4 m across: bays to 2250 by 675",
        "metal-bays metal=lead code=6 use=pitched length=4000 girth=2400 pitch=30",
        """
        two bays down, each: 4000 / 2 = 2000 -> bay_length +- 0.001
        four across, each: 2400 / 4 = 600 -> bay_girth +- 0.001
        it moves: 29e-6 * 2000 * 60 = 3.48 -> movement +- 0.001
        lap: 75 / sin(30) = 150 -> lap +- 0.001
        a piece: 30.05 * 2 * 0.6 = 36.06 -> mass_each +- 0.001
        all: 2 * 4 * 36.06 = 288.48 -> mass_all +- 0.01
        """,
    ),
    Case(
        "7 m by 3.6 m boarded for GRP with boards of 2400 by 600 on joists at 400",
        "grp-deck length=7000 width=3600 fall=1:80",
        """
        area: 7 * 3.6 = 25.2 -> area +- 0.001
        a board: 2.4 * 0.6 * 11.52 = 16.59 -> sheet_mass +- 0.01
        rows: 3600 / 600 = 6 -> rows.6.n +- 0
        first row ends with: 7000 - 2400 - 2400 = 2200 -> rows.1.last +- 0.001
        second, begun with 1600, ends with: 7000 - 1600 - 2 * 2400 = 600 -> rows.2.last +- 0.001
        1600 and 600 come out of one board, 200 to spare: 2400 - 1600 - 600 = 200
        three boards a row: 6 * 3 = 18 -> sheets +- 0
        """,
        "pass",
    ),
)

CURVE_SHEET = (*CURVES, *DECKS, *LININGS)
