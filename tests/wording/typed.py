"""What is typed for the page of refusals, group by group. `J` is the sample job; each line starts from it unchanged."""

COMMANDS = {
    "The command line": """
        recrod J x
        xyzzy
        show
        show nowhere.json
        show J --colour
        show J main
        record J
        snag J main.plates.sides "out" --by
        new kiln.json --units cubits
        note J main.plates "bedded first"
        open J
        sample J
        sample site mill-lane
        --plain open nowhere.json
        record J main.first-pair.stood -- -3 --by A
        """,
    "new: a job from the command line": """
        new kiln.json --by A
        new kiln.json --title " " --part main:hipped --by A
        new kiln.json --title T --by A
        new kiln.json --title T --part main --by A
        new kiln.json --title T --part main:pyramid --by A
        new kiln.json --title T --part "Main Roof:hipped" --by A
        new kiln.json --title T --part job:hipped --by A
        new kiln.json --title T --part main:hipped --part main:gabled --by A
        new kiln.json --title T --part main:hipped length=9000 --by A
        new kiln.json --title T --part main:hipped main.length --by A
        new kiln.json --title T --part main:hipped rear.length=9000 --by A
        new kiln.json --title T --part main:hipped main.length=9000 main.length=9100 --by A
        new kiln.json --title T --part main:hipped main.lenght=9000 --by A
        new kiln.json --title T --part main:hipped main.length=9 main.width=6 main.pitch=35 --by A
        new kiln.json --title T --part main:hipped main.length=long --by A
        new kiln.json --title T --part main:hipped main.length=9000 main.width=6000 main.pitch=95 --by A
        new kiln.json --title T --part main:hipped main.length=9000 main.width=6000 main.pitch=80 --by A
        new kiln.json --title T --part main:hipped main.length=6000 main.width=9000 main.pitch=35 --by A
        new kiln.json --title T --part main:hipped main.covering=slates --by A
        new J --title T --part main:hipped --by A
        new nowhere/kiln.json --title T --part main:hipped --by A
        """,
    "record: figures": """
        record J main.hip-lines.line-a 1,2,3 --by A
        record J main.hip-lines.line-a length=4700 --by A
        record J main.hip-lines.line-a offsets=one,2,3,4 --by A
        record J main.hip-lines.line-a offsets=1,2mm,3,4 --by A
        record J main.hip-lines.line-a offsets=1,2 --by A
        record J main.hip-lines.line-a offests=0,2,1,0 --by A
        record J main.hip-lines.line-a offsets=0,2,1,0 offsets=1 --by A
        record J main.plates.levels 1402,1403 --by A --note checked
        record J main.plates.levels "1402 1403 1402 1403 1402 1403 1402 1403" --by A --note checked
        record J main.plates.levels readings=1402 --by A --note checked
        record J main.plates.sides 8996 6003 9001 6002 10826 10813 --by A --note checked
        record J main.plates.sides ab=900 bc=6003 cd=9007 da=6002 ac=10819 bd=10813 --by A --note checked
        record J main.plates.sides ab=8996 bc=6003 cd=9007 da=6002 ac=25000 bd=10813 --by A --note checked
        record J main.plates.sides ab=8996 bc=6003 --by A --note checked
        record J main.plates.sides ab=8996 bc=6003 cd=9007 da=6002 ac=10826 bd=10813 --by A
        record J main.hips.straight 3 --by A
        record J dormer.cheeks.plumb left=1 right=9 --by A
        record J dormer.cheeks.length left=-900 right=900 --by A
        record J dormer.cheeks.length left=1/3in right=900 --by A
        record J dormer.cheeks.length left=0.9 right=0.9 --by A
        record J dormer.cheeks.length left=900 right=900 left=3 --by A
        record J dormer.cheeks.length 900 900 --by A
        record J dormer.cheeks.length 900 --by A
        record J main.plates.span middle=9..1 at_p=6002 at_q=6003 --by A --note checked
        """,
    "record: ticks, choices, words and sums": """
        record J main.hip-lines.hip-c 4741 --by A
        record J main.hip-lines.hip-c yes --by A
        record J main.ridge.crowns ok --by A
        record J main.ridge.crowns --by A
        record J main.plates.hip-loads rafters --by A --note checked
        record J main.plates.hip-loads --by A --note checked
        record J main.plates.ties --by A --note checked
        record J dormer.cheeks.lintel --by A
        record J dormer.cheeks.lintel detail="E-24 B" --by A
        record J "four sides" ab=1 --by A
        record J main.plates --by A
        record J main.plate.sides ab=1 --by A
        record J main.hips.lengths 1 --by A
        record J dormer.cheeks.length left=900 right=900 --by A --done yesterday
        record J dormer.cheeks.length left=900 right=900 --by A --done 2199-01-01T07:30
        record J dormer.cheeks.length left=900 right=900 --by A --instrument T9
        record J dormer.cheeks.length left=900 right=900
        """,
    "draw: drawing figures": """
        draw J main --by A
        draw J mian pitch=37 --by A
        draw J main pich=37 --by A
        draw J main pitch=flat --by A
        draw J main pitch=37 pitch=38 --by A
        draw J main length=9 --by A
        draw J main 37 --by A
        draw J main pitch=95 --by A
        """,
    "sign, release, skip, defer": """
        sign J main --by A
        sign J mian.plates --by A
        sign J main.plates.sides --by A
        sign J job.before --by A
        sign J main.hip-lines --by A
        sign J main.hips --by A
        sign J dormer.cheeks --by A
        sign J job.handover --by A
        release J main.first-pair.twist --by A
        release J main.plates.span --by A
        release J main.hips --reason "packed" --by A
        release J job.handover --reason "in a hurry" --by A
        release J job.before --reason "packed" --by A
        skip J main.hip-lines.line-d --by A
        skip J main.hip-lines --reason "steel ring beam" --by A
        defer J main.hip-lines.line-d --by A
        defer J main.hip-lines.line-d --until nowhere --reason "ties not on site" --by A
        defer J main.hip-lines.line-d --until main.plates --reason "ties not on site" --by A
        defer J main.hip-lines.line-d --until main.hips --by A
        """,
    "snag, note, instrument": """
        snag J main.plates.sides --by A
        snag J nowhere "corner C 11 out" --by A
        snag J main.plates.sides "corner C 11 out" --due Friday --by A
        snag J --close 9 --by A
        snag J --close --by A
        note J main.plates --by A
        note J nowhere "bedded first" --by A
        note J day --by A
        note J main.plates "as seen" --photo nowhere/1.jpg --by A
        instrument J T2 --bad --by A
        instrument J T9 --bad --reason "hook bent" --by A
        instrument J T9 --by A
        instrument J T9 tape IV --by A
        """,
    "read: cautions": """
        read J wind 12 --by A
        read J weather-wind --by A
        read J weather-wind breezy --by A
        read J weather-wind -- -3 --by A
        read J hip-engineer 12 --at nowhere --by A
        read J weather-wind "18 12" --by A
        read J hip-engineer 12 --at main.plates.sides --by A
        read J hip-engineer 12 --at dormer.cheeks --by A
        read J open-edge yes --by A
        read J open-edge x --by A
        read J scaffold ok --by A
        read J hot-work 12 --by A
        """,
    "verify, lists, merge": """
        verify J --head 7414
        verify J --head zzzzzzzzzzzz
        verify J --head
        verify J --head 000000000000
        verify nowhere.json
        lists J --update --by A
        merge copied.json nowhere.json
        merge copied.json other.json
        merge --driver J
        """,
    "order, drawings, handover": """
        order J mian
        order J --lengths 4.8,5.4 --buy
        order J --lengths long --buy
        order J --csv --json
        order J --kerf wide --buy
        order J --prices 47x150:4800 --buy
        order J --on-site 47x150:3000 --buy
        order J --on-site 47x150:3:2 --buy
        order J --yard none.toml --buy
        drawings J mian
        drawings J main.plates.ties
        drawings J main.plates.sides --svg kiln-lane.json/svg
        accept J none.txt
        accept J folder.jpg
        accept J pipe.jpg
        accept J large.jpg
        accept J words.jpg
        accept J not-text.csv
        accept J altered-reply.txt
        accept J other-reply.txt
        accept J lost-reply.txt
        templates J mian
        templates J deck
        templates J main purlin
        templates J main --bars 120 90
        templates J main --bars wide 100
        templates J main --svg --bars 99 100
        templates J main 1 --out kiln-lane.json/out
        handover J --to roofer --by A
        handover J --by A
        """,
    "calc: what isn't a figure of it": """
        calc comon run=3000 pitch=35
        calc common run 3000
        calc common run=3000 run=3100 pitch=35
        calc common rum=3000 pitch=35
        calc common run=3000
        calc common run=3000 pitch=35 rise=2100
        calc common run=long pitch=35
        calc common run=-3000 pitch=35
        calc common run=0 pitch=35
        calc common run=3 pitch=35
        calc common run=3.0 pitch=35
        calc common run=3000 pitch=95
        calc common run=3000 pitch=80
        calc common run=3000 pitch=35 tied=perhaps
        calc common run=3000 pitch=35 --colour
        calc common --help-me
        """,
    "calc: any roof": """
        calc surface spacing=400
        calc surface "plan=A 0,0; B 9000,0; C 9000,6000; D 0,6000; main AB 40, BC 40, CD 40"
        calc surface "plan=A 0,0; B 9000,0; C 9000,6000; D 0,6000; main AB 40, BX 40, CD 40, DA 40"
        calc surface "plan=A 0,0; B 9000,0; C 9000,6000; D 0,6000; main AB 95, BC 40, CD 40, DA 40"
        calc surface "plan=A 0,0; B 9000,0; C 9000,6000; D 0,6000; main AB gable, BC gable, CD gable, DA gable"
        calc surface "plan=A 0,0; B 9000,0; C 9000,6000; D 0,6000; main BA 40, AD 40, DC 40, CB 40"
        calc surface "plan=A 0,0; B 9000,0; C 9000,6000; D 0,6000; main AB 40, AB 30, BC 40, CD 40, DA 40"
        calc surface "plan=A 0,0; B 9000,0; C 9000,6000; D 0,6000; M 4500,4; main AM 40, MB 35, BC 40, CD 40, DA 40"
        calc surface "plan=A 0,0; B 9,0; C 4,4; D 0,9; loop AB 40, BC 40, CD 40, DA 40 +300"
        calc surface "plan=A 0,0; B 9,0; C 9,6; D 4,6; E 4,9; F 0,9; loop AB 40, BC 40, CD gable, DE 40, EF 40, FA 40"
        calc surface "plan=A 0,0; B 9000,0; C 9000,6000; D 0,6000; main AB 40, BC 40, CD 40, DA 40" spacing=400 origin=X
        calc surface "plan=A 0,0; B 9000,0; C 9000,6000; D 0,6000; main AB 40, BC 40, CD 40, DA 40" laid=wing
        calc ties "plan=A 0,0; B 9000,0; C 9000,6000; main AB 40, BC 40, CA 40" ties=A-B:9000,A-X:4000
        """,
    "calc: setting out": """
        calc levels readings=1402
        calc levels readings=1402,1405 points=A
        calc levels readings=1402,1405 points=A,A
        calc centres length=9000 spacing=1
        calc centres length=900 first=600 last=400
        calc twist spacing=400 fall_foot=400 fall_head=0 length=3450
        calc string offsets=0,2 length=4700
        calc tape length=9000 class=IV
        calc tape length=9000 measured=9000
        calc squareness ab=9000 bc=6000 cd=9000 da=6000 ac=25000 bd=10817
        calc squareness ab=900 bc=6000 cd=9000 da=6000 ac=10817 bd=10817
        calc squareness ab=9000 bc=6000 cd=9000 da=6000 ac=10817
        calc squareness ab=9000 bc=6000 cd=9000 da=6000 ac=10817 bd=10817 ties=A-M:4500
        calc squareness ab=9000 bc=6000 cd=9000 da=6000 ac=10817 bd=10817 ties=A-A:4500
        calc squareness ab=9000 bc=6000 cd=9000 da=6000 ac=10817 bd=10817 ties=corner
        """,
    "calc: rafters": """
        calc common run=300 pitch=35 ridge=700
        calc common run=3000 pitch=35 section=150
        calc common run=3000 pitch=35 section=2inx150mm
        calc commons first=400 last=8600 run=3000 pitch=35 spacing=400 ridge=900 run_last=400
        calc birdsmouth section=47x150 pitch=35 seat=100 fraction=1/3
        calc birdsmouth section=47x150 pitch=35 seat=1000
        calc hip run=3000 pitch=35 corner=200
        calc hip run=3000 pitch=35 section=47x150 common_height_above_plate=400 plate=100
        calc jacks run=3000 pitch=35 spacing=400 first=3200
        calc jacks run=3000 pitch=35 spacing=400 first=10
        calc jacks run=3000 pitch=35 spacing=400 side=3
        calc valley run=3000
        calc purlin
        calc roof length=9000
        calc roof ab=9000 bc=6000 cd=9000 da=6000 ac=10817 bd=10817
        calc roof ab=9000 bc=6000 cd=9000 da=6000 ac=10817 bd=10817 pitch_ab=35
        calc ridge length=6000 width=9000 pitch=35
        calc flat-top length=9000 width=6000 pitch=35
        calc flat-top length=9000 width=6000 pitch=35 rise=9000
        calc opening level_width=800 level_depth=1200 thickness=400 spacing=400 pitch=35
        calc opening level_width=800 level_depth=1200 spacing=400 pitch=35 run=3000
        calc opening level_width=800 level_depth=2700 spacing=400 pitch=35 run=3000 foot=600
        calc opening level_width=800 level_depth=1200 spacing=400 pitch=35 run=3000 foot=10
        calc scarf depth=200 nib=0.45 hook=0.2
        calc scarf depth=200 wedge=400
        calc scarf depth=200 wedge=3
        calc scarf depth=200 nib=120
        calc scarf depth=200 nib=0.6
        calc scarf depth=200 cover=180
        calc hip-foot corner=150 pitch=20 pitch2=60
        calc hip-foot pitch=35 common_height_above_plate=5mm
        calc hip-foot pitch=35 common_height_above_plate=300 dummy_run=600
        """,
    "calc: curves": """
        calc arc chord=2400
        calc arc chord=2400 rise=600 radius=1500
        calc arc chord=2400 rise=1300
        calc arc chord=2400 radius=1000
        calc arc chord=2400 rise=600 spacing=300 count=5
        calc arc chord=2400 rise=600 spacing=1
        calc rib radius=1500 depth=1500 board=150
        calc rib radius=1500 depth=150 board=150
        calc barrel chord=2400 rise=600 radius=1500 pitch=35
        calc barrel chord=2400 rise=600 pitch=35 sheet=600
        calc barrel chord=2400 rise=600 pitch=35 inside=600
        calc eyebrow width=2400 rise=1300 pitch=35
        calc eyebrow width=2400 rise=600 pitch=35 run=400
        calc eyebrow width=2400 rise=600 pitch=0.1
        calc eyebrow width=2400 rise=600 pitch=55 run=900 deck=18
        calc eyebrow width=2400 rise=600 deck=18
        calc eyebrow width=2400 rise=600 pitch=55 inside=600
        calc ordinates chord=2400 rise=600 spacing=300 readings=0,1
        calc slope-marks chord=2400 rise=600 first=0 spacing=400 thickness=400 pitch=35
        calc slope-marks chord=2400 rise=600 first=2500 spacing=400 pitch=35
        calc sheet-bend thickness=9 radius=-2
        calc formers radius=900 former=170
        calc formers radius=900 former=75 count=7
        calc formers radius=900 former=170 count=7 slot=80
        calc formers radius=900 former=170 count=60
        calc formers radius=900 former=170 count=7 end=1450
        calc formers radius=900 former=170 count=7 stance=plumb end=5
        calc formers radius=900 former=170 count=7 stance=plumb slot=20 joint=proud
        calc formers radius=900 former=900 count=7
        calc formers radius=900 former=170 count=7 board=160
        calc formers radius=900 former=170 count=7 split=0.5
        calc soffit radius=900 pitch=40 rafter=150 sheet=500 former=400
        calc soffit radius=900 pitch=40 rafter=150 layers=5
        calc bulkhead radius=900 pitch=40 rafter=150 heights=700,300
        calc bulkhead radius=900 pitch=40 rafter=150 heights=900,300,400
        calc bulkhead radius=900 pitch=40 rafter=150 heights=1000,950
        calc bulkhead radius=900 pitch=40 rafter=150 heights=900,860
        calc bulkhead radius=900 pitch=40 rafter=150 heights=900,300,0
        calc bulkhead radius=900 pitch=40 rafter=150 steps=5
        """,
    "calc: decks": """
        calc ventilation kind=cold-pitched span=6000
        calc ventilation kind=cold-flat span=6000 pitch=35
        calc ventilation kind=cold-flat span=12000
        calc firrings span=3600 fall=1:40 thin=20 length=420 joist=300 clear=100
        calc firrings span=3600 fall=1:6 thin=20
        calc firrings span=3600 thin=20 fall=1:5
        calc firrings span=3600 fall=60
        calc firrings span=3600 fall=1:0.5
        calc firrings span=3600 fall=1:4
        calc hipped-falls length=6000 width=4000 fall=1:40 spacing=1
        calc gutter length=6000 sole=225 depth=20 fall=1:80 metal=lead code=6
        calc gutter length=6000 sole=225 depth=100 fall=1:80 metal=lead code=6 roof_area=40
        calc gutter length=6000 sole=225 depth=100 fall=1:80 metal=lead code=6 roof_area=40 rainfall=75
        calc deck-boards length=6000 width=3600 under=felt
        """,
    "calc: coverings": """
        calc gauge slope=4870
        calc gauge slope=4870 headlap=65
        calc gauge slope=4870 headlap=300 unit_length=265
        calc gauge slope=4870 max_gauge=100 min_gauge=200
        calc gauge slope=400 max_gauge=100 eaves=50
        calc gauge slope=400 max_gauge=100 top=400
        calc gauge slope=4870 max_gauge=100 eaves=300 hang=250
        calc headlap covering=slates pitch=35 exposure=moderate
        calc headlap covering=other pitch=35 exposure=moderate
        calc headlap covering=plain-tiles pitch=35 exposure=moderate unit_length=265 headlap=300
        calc cover gauge=100 cover_width=165 area=20 length=9000 slope=4870
        calc cover gauge=100 cover_width=165 area=20 unit_mass=1.2 mass_per_m2=60
        calc cover gauge=100 cover_width=165 area=20 design_mass=47
        calc load-change mass=64
        calc metal-bays metal=lead code=3 use=pitched length=4000 girth=2400 pitch=30
        calc metal-bays metal=copper code=6 use=pitched length=4000 girth=2400 pitch=30
        calc metal-bays metal=copper thickness=0.5 use=pitched length=4000 girth=2400 pitch=30
        calc metal-bays metal=lead code=6 use=flat length=4000 girth=2400 pitch=30
        calc metal-bays metal=lead code=6 use=pitched length=4000 girth=2400 pitch=5
        calc grp-deck length=7000 width=3600 fall=1:80 spacing=800
        calc grp-deck length=7000 width=3600 fall=1:2
        """,
    "calc: timber": """
        calc mass section=47x150
        calc mass section=47x150 length=3600 grade=C99
        calc laps length=9000 longest=300 lap=400
        calc stock
        calc stock cuts=47x150:4870:2 lengths=3.6,4.2
        calc stock cuts=47x150:4870:2 lengths=3600,4200
        calc stock cuts=47x150:4870 lengths=3600
        calc stock cuts=47x150:0:2 lengths=3600
        calc stock cuts=47x150:4870:0 lengths=3600
        calc stock cuts=47x150:3000:2 prices=47x200:3600:12
        calc stock cuts=47x150:3000:2 prices=47x150:3600:0
        calc stock cuts=47x150:3000:2 prices=47x150:3600:12,47x150:3600:14
        calc stock cuts=47x150:3000:2 members=members.csv
        calc stock members=nowhere.csv
        calc stock members=empty.csv
        calc stock members=header.csv
        calc stock members=wrong-header.csv
        calc stock members=short-line.csv
        calc stock members=angle.csv
        calc stock members=not-text.csv
        """,
    "Photos": """
        note J main.plates "as seen" --photo empty.jpg --by A
        note J main.plates "as seen" --photo words.jpg --by A
        note J main.plates "as seen" --photo cut.jpg --by A
        note J main.plates "as seen" --photo folder.jpg --by A
        note J main.plates "as seen" --photo link.jpg --by A
        note J main.plates "as seen" --photo large.jpg --by A
        note J main.plates "as seen" --photo pipe.jpg --by A
        """,
    "Files that are not jobs, or damaged, or open elsewhere": """
        show folder.json
        show pipe.json
        show circle.json
        show empty.json
        show words.json
        show list.json
        show cut.json
        show twice.json
        show no-format.json
        show no-start.json
        note newer.json main.plates "bedded first" --by A
        note torn.json main.plates "bedded first" --by A
        note elsewhere.json main.plates "bedded first" --by A
        note open.json main.plates "bedded first" --by A
        verify cut.json
        verify changed.json
        verify torn.json
        """,
    "Checklists": """
        lint nowhere
        lint not-toml.toml
        """,
}

# Line by line: what is typed, one after another, to the sample.
LINES = """
    xyzzy
    ca
    99
    main.plates.ends | do
    release |
    later | 3 | not on site
    find | chimney pot
    find |
    main.hip-lines | do
    main.hip-lines.line-c | do |
    main.hip-lines.line-c | do | about nine metres
    dormer.cheeks.length | do | -900
    dormer.cheeks.length | do | 9
    main.hips.lengths | do
    gutter.finish | do
    snag | the mortar is soft | | Friday
    snag |
    note |
    photo | nowhere/1.jpg
    calculators | 7 | 12
    calculators | 7 | long
    hand over | 9
    cautions | yes
"""
