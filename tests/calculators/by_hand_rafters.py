"""A sheet of cases of setting out and rafters, worked by hand."""

from tests.calculators.by_hand import Case

SETTING_OUT = (
    Case(
        "four plates of 8 m by 6 m: 6, 8, 10 would be square; C and A are pulled apart",
        "squareness ab=8000 bc=6000 cd=8000 da=6000 ac=10006 bd=9994",
        """
        diagonals: 10006 - 9994 = 12 -> diagonal_difference +- 0.001
        square of BD: 9994 ** 2 = 99880036
        what it is short of 3-4-5: 8000 ** 2 + 6000 ** 2 - 99880036 = 119964
        angle at A, from its triangle: acos(119964 / (2 * 8000 * 6000)) = 89.928 -> angle_a +- 0.002
        off square: 90 - 89.928 = 0.072
        the end of the 6 m plate, off the square: 6000 * sin(0.072) = 7.5 -> out_of_square +- 0.1
        good to, two readings of 1 and 0.5 of tape: 2 * sqrt((0.5 ** 2 + 2) / 3) = 1.73 -> uncertainty +- 0.01
        a fail from: 10 + 1.73 = 11.73
        area, height of the leaning figure: 8 * 6 * sin(89.928) = 48.00 -> area +- 0.01
        """,
        "fail",
    ),
    Case(
        "a corner of 3 m by 4 m: 5 m across would be square, and it is 10 more",
        "corner first=3000 second=4000 across=5010",
        """
        square, as 3-4-5: hypot(3000, 4000) = 5000 -> across_if_square +- 0.001
        across: 5010 - 5000 = 10 -> across_off +- 0.001
        angle: acos((3000 ** 2 + 4000 ** 2 - 5010 ** 2) / (2 * 3000 * 4000)) = 90.239 -> angle +- 0.001
        over square: 90.239 - 90 = 0.239
        end of the 3 m side: 3000 * sin(0.239) = 12.51 -> out_of_square +- 0.05
        """,
    ),
    Case(
        "six staff readings round the plates, the highest reads least",
        "levels readings=1412,1409,1415,1411,1408,1416 points=A,AB,B,C,CD,D tolerance=5",
        """
        lowest less highest: 1416 - 1408 = 8 -> range +- 0.001
        pack at B: 1415 - 1408 = 7 -> packing.B.packing +- 0.001
        nothing at CD: 1408 - 1408 = 0 -> packing.CD.packing +- 0.001
        good to: 2 * sqrt(2 / 3) = 1.63 -> uncertainty +- 0.005
        a fail from: 5 + 1.63 = 6.63
        """,
        "fail",
    ),
    Case(
        "two rafters 600 apart under a straightedge, 3 down to the right at the foot and 1 up at the head",
        "twist spacing=600 fall_foot=3 fall_head=-1 length=4200 tolerance=3",
        """
        wind: -1 - 3 = -4 -> wind +- 0.001
        as an angle: atan(4 / 600) = 0.382
        left the other way round: 0 - 0.382 = -0.382 -> wind_angle +- 0.001
        in each metre: -4 / 4.2 = -0.952 -> wind_per_metre +- 0.001
        """,
        "unsure",
    ),
    Case(
        "a ridge of 6 m sighted along a line that stands 2 off at one end and 6 at the other",
        "string offsets=2,9,11,10,6 length=6000 tolerance=10",
        """
        the straight between the ends, at the middle: (2 + 6) / 2 = 4
        off it there: 11 - 4 = 7 -> bow +- 0.001
        and at three quarters, less: 10 - (2 + 3 * (6 - 2) / 4) = 5 -> stations.4500.0.off_line +- 0.001
        where: 6000 / 2 = 3000 -> station +- 0.001
        length over bow: 6000 / 7 = 857 -> ratio +- 0.5
        """,
        "pass",
    ),
    Case(
        "7.35 m taped from the hook of a class II tape on a cold day, 12 off 20",
        "tape length=7.35m class=II measured=7354 nominal=7350 tolerance=10 off_temperature=-12",
        """
        metres begun: 7 + 1 = 8
        the tape may be out: 0.3 + 0.2 * 8 + 0.2 = 2.1 -> limit_of_error +- 0.001
        the cold: 0.0000115 * 7350 * 12 = 1.01
        good to: 2 * sqrt((2.1 ** 2 + 1 + 1.01 ** 2) / 3) = 2.93 -> uncertainty +- 0.01
        a pass up to: 10 - 2.93 = 7.07 -> pass_to +- 0.01
        measured less nominal: 7354 - 7350 = 4 -> difference +- 0.001
        """,
        "pass",
    ),
)

RAFTERS = (
    Case(
        "commons over a span of 7.2 m at 42, 47x175 on a 32 ridge, 450 out to the tail",
        "common run=3.6m pitch=42 section=47x175 ridge=32 overhang=450 tied=yes",
        """
        half the span: 7200 / 2 = 3600
        rise: 3600 * 0.9004 = 3241.4 -> rise +- 0.2
        cos 42: cos(42) = 0.7431
        length on the line: 3600 / 0.7431 = 4844.6 -> length_on_line +- 0.5
        half the ridge, up the slope: 16 / 0.7431 = 21.5 -> ridge_deduction +- 0.1
        to the ridge: 4844.6 - 21.5 = 4823.1 -> length_to_ridge +- 0.5
        a third of the depth: 175 / 3 = 58.3 -> birdsmouth_depth +- 0.1
        seat: 58.3 / sin(42) = 87.1 -> seat_length +- 0.1
        plumb face: 58.3 / 0.7431 = 78.5 -> heel_plumb +- 0.1
        over the plate: (175 - 58.3) / 0.7431 = 157.0 -> height_above_plate +- 0.1
        tail: 450 / 0.7431 = 605.6 -> tail_length +- 0.1
        the slant of the plumb cut: 175 * 0.9004 = 157.6
        long point to long point: 4823.1 + 605.6 + 157.6 = 5586.3 -> overall_length +- 0.7
        of 300s: 19 * 300 = 5700 -> order_length +- 0
        kilos of C24: 0.047 * 0.175 * 5.5863 * 420 = 19.3 -> mass +- 0.05
        """,
        "pass",
    ),
    Case(
        "rise 2475 over a run of 3300: threes, fours and fives",
        "common run=3300 rise=2475 section=50x200 birdsmouth=1/4 ridge=40 tied=yes",
        """
        threes: 2475 / 825 = 3
        fours: 3300 / 825 = 4
        fives: 5 * 825 = 4125 -> length_on_line +- 0.001
        pitch: atan(3 / 4) = 36.87 -> plumb_cut_from_square +- 0.005
        seat cut: 90 - 36.87 = 53.13 -> seat_cut_from_square +- 0.005
        half the ridge, 20 for 4 makes 25 for 5: 20 * 5 / 4 = 25 -> ridge_deduction +- 0.001
        a quarter deep: 200 / 4 = 50 -> birdsmouth_depth +- 0.001
        seat, 3 for 5: 50 * 5 / 3 = 83.33 -> seat_length +- 0.005
        over the plate, 4 for 5: 150 * 5 / 4 = 187.5 -> height_above_plate +- 0.001
        """,
        "pass",
    ),
    Case(
        "a birdsmouth in 47x195 at 30",
        "birdsmouth section=47x195 pitch=30 plate=140 tied=yes",
        """
        a third: 195 / 3 = 65 -> depth +- 0.001
        seat, twice as long at 30: 65 / 0.5 = 130 -> seat +- 0.001
        plumb face: 65 / 0.8660 = 75.06 -> heel +- 0.01
        over the plate: 130 / 0.8660 = 150.1 -> height_above_plate +- 0.05
        """,
        "pass",
    ),
    Case(
        "the ridge of a hipped roof 10.4 m by 5.6 m, commons 47 thick",
        "ridge length=10400 width=5600 pitch=40 thickness=47",
        """
        half the width, off each end: 5600 / 2 = 2800
        centre to centre: 10400 - 2 * 2800 = 4800 -> ridge_length +- 0.001
        cut, half a common more at each end: 4800 + 47 = 4847 -> cut_length +- 0.001
        rise: 2800 * 0.8391 = 2349.5 -> rise +- 0.1
        """,
    ),
    Case(
        "the same roof, with the ends steeper at 55",
        "roof length=10400 width=5600 pitch=40 pitch_bc=55 pitch_da=55",
        """
        rise: 2800 * 0.8391 = 2349.5 -> ridge_p.z +- 0.1
        run of an end: 2349.5 / tan(55) = 1645.1 -> ridge_p.x +- 0.1
        ridge: 10400 - 2 * 1645.1 = 7109.8 -> ridge_length +- 0.2
        hip on plan: hypot(2800, 1645.1) = 3247.5 -> hips.a.run +- 0.1
        hip: hypot(3247.5, 2349.5) = 4008.3 -> hips.a.length +- 0.2
        pitch of the hip: atan(2349.5 / 3247.5) = 35.88 -> hips.a.pitch +- 0.01
        a common of the sides: 2800 / cos(40) = 3655.1 -> slopes.ab.common_longest +- 0.1
        a common of the ends: 1645.1 / cos(55) = 2868.1 -> slopes.bc.common_longest +- 0.2
        """,
    ),
    Case(
        "a dormer's opening 1350 wide and 1500 deep on plan in a roof at 38, rafters at 450",
        "opening pitch=38 level_width=1350 level_depth=1500 spacing=450 run=3400 foot=700",
        """
        cos 38: cos(38) = 0.7880
        up the slope: 1500 / 0.7880 = 1903.6 -> slope_length +- 0.2
        two doubled trimmers more: 1903.6 + 4 * 47 = 2091.6 -> cut_out +- 0.2
        three bays, less a rafter: 3 * 450 - 47 = 1303
        which is short of the width, by: 1350 - 1303 = 47
        so four bays: 4 * 450 - 47 = 1753 -> between_rafters +- 0.001
        and the rafters in them: 4 - 1 = 3 -> rafters_cut +- 0
        three or four cut, two more each side: 2 * 2 = 4 -> rafters_added +- 0
        foot, less a doubled trimmer: 700 / 0.7880 - 94 = 794.3 -> trimmed_rafters.foot.length +- 0.1
        head: (3400 - 700 - 1500) / 0.7880 - 94 = 1428.8 -> trimmed_rafters.head.length +- 0.2
        """,
    ),
    Case(
        "a purlin of 175 lengthened over a prop",
        "scarf depth=175",
        """
        three times the depth: 3 * 175 = 525 -> joint_length +- 0.001
        nib, a quarter: 175 / 4 = 43.75 -> nib +- 0.001
        hook, an eighth: 175 / 8 = 21.875 -> hook +- 0.001
        from nib to nib it would fall: atan((175 - 2 * 43.75) / 525) = 9.462
        that far: hypot(525, 87.5) = 532.2
        and the hook tips it more: asin(21.875 / 532.2) = 2.356
        splay: 9.462 + 2.356 = 11.818 -> splay_from_edge +- 0.005
        up to the foot of the hook: 87.5 - 21.875 / 2 * cos(11.818) - 10 * sin(11.818) = 74.75 -> depth_left +- 0.02
        along to it: 262.5 - 21.875 / 2 * sin(11.818) + 10 * cos(11.818) = 270.05 -> outline.5.x +- 0.02
        a wedge tapers across the timber: 47 / 12 = 3.917
        its tip: (20 - 3.917) / 2 = 8.0415 -> wedge_thin +- 0.001
        at its face: 20 - 8.0415 = 11.9585 -> wedge_at_face +- 0.001
        its head, 40 further out: 11.9585 + 40 / 12 = 15.2918 -> wedge_thick +- 0.001
        a screw, 20 short of the far edge: 175 - 20 = 155 -> screws.1.length +- 0.001
        """,
    ),
    Case(
        "a pattern of 47 x 150 cut for a run of 3 m at 30, open 5 mm all the way at the ridge",
        "pattern length=3464.1 pitch=30 section=47x150 birdsmouth=1/3 gap_top=5 gap_bottom=5",
        """
        run, 5 more than it was cut for: 3464.1 * cos(30) + 5 = 3005.0 -> run +- 0.1
        depth over the line: 150 * 2 / 3 = 100
        top at the ridge over the plate: 3464.1 * sin(30) + 100 / cos(30) = 1847.5 -> head_height +- 0.1
        from the plate to that top: hypot(3005, 1847.5) = 3527.5
        how steep that is: atan(1847.5 / 3005) = 31.584
        how much flatter the line under it is: asin(100 / 3527.5) = 1.6245
        pitch: 31.584 - 1.6245 = 29.9595 -> plumb_cut_from_square +- 0.01
        length: 3005 / cos(29.9595) = 3468.5 -> length +- 0.2
        """,
    ),
)

HIPS = (
    Case(
        "a hip over the roof of 10.4 m by 5.6 m at 40, 47 thick on a 32 ridge, 400 out to the fascia",
        "hip pitch=40 run=2800 section=47x225 ridge=32 overhang=400 common_height_above_plate=160",
        """
        on plan: 2800 * 1.4142 = 3959.8 -> run +- 0.1
        rise: 2800 * 0.8391 = 2349.5 -> rise +- 0.1
        length: hypot(3959.8, 2349.5) = 4604.4 -> length_on_line +- 0.2
        pitch: atan(2349.5 / 3959.8) = 30.68 -> hip_pitch +- 0.01
        half the ridge, on plan along the hip: 16 * 1.4142 = 22.63
        and up it: 22.63 / cos(30.68) = 26.3 -> ridge_deduction +- 0.05
        backing: atan(sin(30.68)) = 27.03 -> backing_1 +- 0.01
        slope to slope: 180 - 2 * 27.03 = 125.94 -> dihedral +- 0.02
        edge bevel at the head: atan(1 / cos(30.68)) = 49.30 -> edge_bevel_1_from_square +- 0.01
        drop, for half of 47: 23.5 * tan(30.68) = 13.94 -> drop_1 +- 0.01
        seat to its top, dropped: 160 - 13.94 = 146.06 -> height_above_plate +- 0.01
        birdsmouth: 225 - 146.06 * cos(30.68) = 99.4 -> birdsmouth_depth +- 0.05
        tail on plan: 400 * 1.4142 = 565.7
        tail: 565.7 / cos(30.68) = 657.8 -> tail_length +- 0.1
        long point to long point: 4604.4 - 26.3 + 657.8 + 225 * tan(30.68) = 5369.4 -> overall_length +- 0.4
        """,
    ),
    Case(
        "a square corner between 45 on the left and 35 on the right",
        "hip pitch=45 pitch2=35 run=2700",
        """
        rise, as much as the run at 45: 2700 * 1 = 2700 -> rise +- 0.001
        run on the right: 2700 / 0.7002 = 3856
        hip on plan: hypot(2700, 3856) = 4707.3 -> run +- 0.3
        plan angle to plate 1: atan(2700 / 3856) = 35.0 -> plan_angle_1 +- 0.01
        to plate 2: 90 - 35 = 55 -> plan_angle_2 +- 0.01
        length: hypot(4707.3, 2700) = 5426.7 -> length_on_line +- 0.3
        pitch: atan(2700 / 4707.3) = 29.84 -> hip_pitch +- 0.01
        backing 1: atan(sin(29.84) / tan(35)) = 35.40 -> backing_1 +- 0.02
        backing 2: atan(sin(29.84) / tan(55)) = 19.21 -> backing_2 +- 0.02
        """,
    ),
    Case(
        "a bay with corners of 135 at 35",
        "hip corner=135 pitch=35 run=1900",
        """
        half the corner to either plate: 135 / 2 = 67.5 -> plan_angle_1 +- 0.001
        on plan: 1900 / sin(67.5) = 2056.5 -> run +- 0.1
        rise: 1900 * 0.7002 = 1330.4 -> rise +- 0.1
        length: hypot(2056.5, 1330.4) = 2449.3 -> length_on_line +- 0.1
        pitch: atan(1330.4 / 2056.5) = 32.90 -> hip_pitch +- 0.01
        backing: atan(sin(32.90) / tan(67.5)) = 12.68 -> backing_2 +- 0.01
        """,
    ),
    Case(
        "the valley of a wing 4.2 m wide against a roof at 40, 47 thick, 400 out to the fascia",
        "valley pitch=40 run=2100 section=47x225 overhang=400 common_height_above_plate=160",
        """
        half the wing, on plan along the valley: 2100 * 1.4142 = 2969.8 -> run +- 0.1
        rise: 2100 * 0.8391 = 1762.1 -> rise +- 0.1
        length: hypot(2969.8, 1762.1) = 3453.2 -> length_on_line +- 0.2
        pitch: atan(1762.1 / 2969.8) = 30.68 -> hip_pitch +- 0.01
        hollow: atan(sin(30.68)) = 27.03 -> backing_2 +- 0.01
        the slope over its arris: 23.5 * tan(30.68) = 13.94 -> drop_1 +- 0.01
        birdsmouth, its centre as high as the commons: 225 - 160 * cos(30.68) = 87.4 -> birdsmouth_depth +- 0.05
        seat: 87.4 / sin(30.68) = 171.3 -> seat_length +- 0.2
        tail: 400 * 1.4142 / cos(30.68) = 657.7 -> tail_length +- 0.1
        """,
    ),
    Case(
        "that wing's valley laid on boards over a main roof at 40, its own rafters 100 deep, boards 25 by 200",
        "laid-valley pitch=40 run=2100 board=25x200 section=47x100 overhang=400",
        """
        on the main slope, 1 along to 1 / 0.7660 up: atan(1 / 0.7660) = 52.55 -> slope_angle +- 0.01
        so the head is cut by as much, and the foot: 90 - 52.55 = 37.45 -> foot_bevel_from_square +- 0.01
        length, as a framed valley's: hypot(2969.8, 1762.1) = 3453.2 -> length_on_line +- 0.2
        tail: 3453.2 * 400 / 2100 = 657.8 -> tail_length +- 0.2
        edge on the line: 3453.2 + 657.8 = 4111.0 -> outer_edge +- 0.3
        off at both ends: 200 * (tan(52.55) + tan(37.45)) = 414.3
        other edge: 4111.0 - 414.3 = 3696.7 -> inner_edge +- 0.6
        between the slopes, twice the hollow: 2 * 27.03 = 54.06
        toes in: 25 / tan(54.06) = 18.12 -> toe_back +- 0.02
        heels: 18.12 + 100 / sin(54.06) = 141.63 -> board_least +- 0.1
        jack shorter: 25 / 0.7660 / sin(40) = 50.77 -> jack_off +- 0.02
        foot level on its side: 90 - 40 = 50 -> foot_cut_from_square +- 0.001
        """,
    ),
    Case(
        "jacks up to that hip at 600, the first 350 from the corner",
        "jacks pitch=40 spacing=600 first=350 run=2800 hip_thickness=47 thickness=47 past=500mm",
        """
        cos 40: cos(40) = 0.7660
        each to the next: 600 / 0.7660 = 783.3 -> difference +- 0.1
        half the hip, slantwise: 23.5 * 1.4142 = 33.23
        and up the jack: 33.23 / 0.7660 = 43.4
        first on its centre: 350 / 0.7660 - 43.4 = 413.5 -> rows.1.length_centre +- 0.1
        half its own thickness up the slope: 23.5 / 0.7660 = 30.7
        long point: 413.5 + 30.7 = 444.2 -> rows.1.length_long_point +- 0.1
        short point: 413.5 - 30.7 = 382.8 -> rows.1.length_short_point +- 0.1
        over all, with 500 of tail and plumb cut: 444.2 + 500 = 944.2 -> rows.1.length_overall +- 0.1
        third: 413.5 + 2 * 783.3 = 1980.1 -> rows.3.length_centre +- 0.3
        last that is short of the commons: 350 + 4 * 600 = 2750 -> rows.5.at +- 0.001
        edge bevel: atan(1 / 0.7660) = 52.55 -> edge_bevel_from_square +- 0.01
        """,
    ),
    Case(
        "jacks down from the wing's ridge to its valley at 600",
        "jacks pitch=40 spacing=600 run=2100 hip_thickness=47 thickness=47 on=valley",
        """
        a full common of the wing: 2100 / 0.7660 = 2741.5
        the valley has taken, 600 along: 600 / 0.7660 = 783.3 -> difference +- 0.1
        half the valley: 23.5 * 1.4142 / 0.7660 = 43.4
        first: 2741.5 - 783.3 - 43.4 = 1914.8 -> rows.1.length_centre +- 0.3
        long point, on the corner's side: 1914.8 + 30.7 = 1945.5 -> rows.1.length_long_point +- 0.3
        third: 2741.5 - 3 * 783.3 - 43.4 = 348.2 -> rows.3.length_centre +- 0.4
        """,
    ),
    Case(
        "studs of a wall of 4.03 m at 400, 38 thick, flush with both ends",
        "centres length=4030 spacing=400 first=19 last=19 thickness=38",
        """
        first to last: 4030 - 19 - 19 = 3992
        whole spacings in it: 3992 / 400 = 9.98
        one at the start, nine after it, one at the end: 1 + 9 + 1 = 11 -> count +- 0.001
        the tenth: 19 + 9 * 400 = 3619 -> rows.10.at +- 0.001
        what is left: 3992 - 9 * 400 = 392 -> last_bay +- 0.001
        the last: 4030 - 19 = 4011 -> rows.11.at +- 0.001
        """,
    ),
    Case(
        "commons at 600 between a ridge's ends 3.62 m apart, plates 10 out of parallel, at 40",
        "commons first=2800 last=6420 run=2800 run_last=2810 pitch=40 spacing=600 ridge=38 thickness=47",
        """
        between the ends: 6420 - 2800 = 3620
        the seventh would be 20 from the last and touch it: 3620 - 6 * 600 = 20
        so it goes midway: 2800 + (3000 + 3620) / 2 = 6110 -> rows.7.at +- 0.001
        pairs: 6 + 1 + 1 = 8 -> count +- 0.001
        first: (2800 - 19) / 0.7660 = 3630.5 -> rows.1.length_to_ridge +- 0.3
        run of the fourth: 2800 + 10 * 1800 / 3620 = 2804.97 -> rows.4.run +- 0.01
        last: (2810 - 19) / 0.7660 = 3643.6 -> rows.8.length_to_ridge +- 0.3
        """,
    ),
    Case(
        "a purlin against that hip, marked by its slopes",
        "purlin pitch=40",
        """
        on the edge: atan(cos(40)) = 37.45 -> edge_bevel_from_square +- 0.01
        down the face: atan(sin(40)) = 32.73 -> face_bevel_from_square +- 0.01
        tilt on the face: asin(0.7660 * 0.7071) = 32.80 -> saw_tilt_on_face +- 0.01
        """,
    ),
)

FLAT_TOP = (
    Case(
        "the foot of a hip of 60 in a square corner under slopes of 3 in 4",
        "hip-foot pitch=3/4 thickness=60 common_height_above_plate=125 overhang=400 dummy_run=800 dummy_thickness=50",
        """
        half its thickness: 60 / 2 = 30 -> v_back_1 +- 0.001
        a mark on each plate: sqrt(30 ** 2 + 30 ** 2) = 42.43 -> clip_mark_1 +- 0.01
        width of the cut: 2 * 30 = 60 -> clip_width +- 0.001
        the hip rises 3 in 4 times root 2: 3 / (4 * sqrt(2)) = 0.5303
        its pitch: atan(0.5303) = 27.94 -> hip_pitch +- 0.01
        along it: 30 / cos(27.94) = 33.96 -> v_back_along_1 +- 0.01
        its bevel: atan(33.96 / 30) = 48.54 -> bevel_1_from_square +- 0.01
        drop: 30 * 0.5303 = 15.91
        at the corner: 125 - 15.91 = 109.09 -> height_at_corner +- 0.01
        tail: 400 * sqrt(2) = 565.69 -> tail_run +- 0.01
        dummy, 3-4-5: 800 * 5 / 4 = 1000 -> dummy_length_1 +- 0.001
        its seat: (150 - 125 * 4 / 5) / (3 / 5) = 83.33 -> dummy_seat_1 +- 0.01
        strings: 125 + 800 * 3 / 4 = 725 -> string_height +- 0.001
        nearest: 800 + 42.43 + 25 = 867.43 -> dummy_nearest_1 +- 0.01
        """,
    ),
    Case(
        "a table 1500 up on plates of 9.6 m by 7.2 m at 42",
        "flat-top length=9600 width=7200 pitch=42 rise=1500 wall_ab=1665 wall_bc=1700",
        """
        in from every plate: 1500 / 0.9004 = 1665.9 -> sides.ab.offset_in +- 0.1
        long side: 9600 - 2 * 1665.9 = 6268.2 -> sides.ab.length +- 0.2
        short side: 7200 - 2 * 1665.9 = 3868.2 -> sides.bc.length +- 0.2
        diagonal: hypot(6268.2, 3868.2) = 7365.7 -> diagonal_ac +- 0.3
        hip on plan: 1665.9 * 1.4142 = 2355.9 -> top.c.hip_run +- 0.1
        hip: hypot(2355.9, 1500) = 2792.9 -> top.c.hip_length +- 0.2
        pitch of it: atan(1500 / 2355.9) = 32.48 -> top.c.hip_pitch +- 0.01
        past the wall under AB: 1665.9 - 1665 = 0.9 -> sides.ab.off_wall +- 0.1
        short of the wall under BC: 1665.9 - 1700 = -34.1 -> sides.bc.off_wall +- 0.1
        the table's corner clipped, half of 47 back: 23.5 * 1 = 23.5 -> clips.a.clip_back +- 0.01
        along it: 23.5 / cos(32.48) = 27.86 -> clips.a.past_along +- 0.01
        stud, less two plates and a sole: 1500 - 2 * 47 - 47 = 1359 -> stud_length +- 0.001
        """,
    ),
    Case(
        "a table set 1200 in from AB, where the sides are 45 and the ends 60",
        "flat-top length=8400 width=6600 pitch_ab=45 pitch_cd=45 pitch_bc=60 pitch_da=60 run=1200",
        """
        up as far as in, at 45: 1200 * 1 = 1200 -> rise +- 0.001
        in from the ends: 1200 / 1.7321 = 692.8 -> sides.da.offset_in +- 0.1
        along AB: 8400 - 2 * 692.8 = 7014.4 -> sides.ab.length +- 0.2
        along BC: 6600 - 2 * 1200 = 4200 -> sides.bc.length +- 0.001
        hip on plan: hypot(1200, 692.8) = 1385.6 -> top.a.hip_run +- 0.1
        hip: hypot(1385.6, 1200) = 1833.0 -> top.a.hip_length +- 0.1
        far corner, from A along AB: 8400 - 692.8 = 7707.2 -> outline.3.x +- 0.1
        and from AB: 6600 - 1200 = 5400 -> outline.3.y +- 0.001
        """,
    ),
)

STICKS = (
    Case(
        "a common of 6 m span at 30 on the bench, hooked at its head; 144 deep, no ridge, 300 out to the tail",
        "sticks pitch=30 run=3000 section=47x144 overhang=300",
        """
        along to the tail's line: 3300 / 0.8660 = 3810.6
        back of a plumb cut over the depth: 144 * 0.5774 = 83.1
        over all: 3810.6 + 83.1 = 3893.7 -> overall_length +- 0.3
        the square, back in 100: 100 * 0.5774 = 57.74 -> plumb_in_100 +- 0.01
        seat: 90 - 30 = 60 -> seat_cut_from_square +- 0.001
        """,
    ),
)

ANY_ROOF = (
    Case(
        "a hipped roof 8 m by 6 m at 3 in 4, said as one block: all is 3-4-5",
        "building building='main 8000x6000 3/4'",
        """
        on plan, m2: 8 * 6 = 48 -> plan_area +- 0.001
        on the slopes: 48 * 5 / 4 = 60 -> area +- 0.001
        its ridge: 8 - 6 = 2
        so high: 3 * 3 / 4 = 2.25
        a wedge of the ridge's mean with both eaves, m3: 6 * 2.25 / 6 * (2 * 8 + 2) = 40.5 -> volume +- 0.001
        """,
    ),
    Case(
        "an L: 9.6 m by 5.6 m at 38, with a wing of 4.4 m that ends in a gable 3.6 m off",
        "surface plan='A 0,0; B 9600,0; C 9600,5600; D 4400,5600; E 4400,9200; F 0,9200; main AB 38, BC 38, CD 38, "
        "FA 38; wing AB 38, DE 38, EF gable, FA 38' spacing=450 ridge=32mm",
        """
        on plan: 9.6 * 5.6 + 4.4 * 3.6 = 69.60 -> plan_area +- 0.001
        its slopes: 69.60 / cos(38) = 88.32 -> area +- 0.01
        main ridge up: 2800 * 0.7813 = 2187.6 -> points.AB-BC-CD.z +- 0.1
        wing's ridge up: 2200 * 0.7813 = 1718.9 -> points.CD-FA-DE.z +- 0.1
        main ridge: 9600 - 2 * 2800 = 4000 -> lines.AB-CD.length +- 0.001
        wing's ridge, from its gable to where it meets the main slope: 3600 + 2200 = 5800 -> lines.FA-DE.length +- 0.001
        hip on plan: 2800 * 1.41421 = 3959.8 -> lines.BC-CD.plan_length +- 0.1
        hip: hypot(3959.8, 2187.6) = 4523.9 -> lines.BC-CD.length +- 0.1
        valley on plan: 2200 * 1.41421 = 3111.3 -> lines.CD-DE.plan_length +- 0.1
        valley: hypot(3111.3, 1718.9) = 3554.5 -> lines.CD-DE.length +- 0.1
        hip left of the corner inside: 4523.9 - 3554.5 = 969.4 -> lines.CD-FA.length +- 0.2
        pitch of them: atan(0.7813 / 1.41421) = 28.92 -> lines.CD-DE.pitch +- 0.01
        verge of the wing: 2200 / cos(38) = 2791.8 -> lines.DE-EF.length +- 0.1
        half the wing's end on plan: 2.2 * (3.6 + 3.6 + 2.2) / 2 = 10.34 -> slopes.DE.plan_area +- 0.001
        """,
    ),
    Case(
        "plates of 8 m by 6 m, taped all round and both ways: 3, 4, 5",
        "ties plan='A 0,0; B 8000,0; C 8000,6000; D 0,6000; main AB 40, BC 40, CD 40, DA 40' "
        "ties=A-B:8000,B-C:6000,C-D:8000,D-A:6000,A-C:10000,B-D:10000",
        """
        lengths that fix four points: 2 * 4 - 3 = 5
        with one to spare, less four sides: 5 + 1 - 4 = 2 -> count +- 0.001
        diagonal: hypot(8000, 6000) = 10000 -> take.A-C.drawn +- 0.001
        the other: hypot(8000, 6000) = 10000 -> take.B-D.drawn +- 0.001
        nothing is out: 10000 - hypot(8000, 6000) = 0 -> misclosure +- 0.001
        """,
    ),
)

RAFTER_SHEET = (*SETTING_OUT, *RAFTERS, *HIPS, *FLAT_TOP, *STICKS, *ANY_ROOF)
