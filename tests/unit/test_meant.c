/* What a builder most likely meant: the edit of the first finding, applied, gives the text that was meant. */
#include "meant.h"

static void units_that_are_missing(void **state)
{
    (void)state;
    static const Slip widths[] = {
        {"band 12 of navy", "band 12 turns of navy"},
        {"band 1 of navy", "band 1 turn of navy"},
        {"band 0.5 of navy", "band 0.5 cm of navy"},
        {"band 50 % of navy", "band 30 mm of navy"},
        {"band 1/3 of navy", "band 20 mm of navy"},
        {"band 7 deg of navy", "band 7 turns of navy"},
        {"band 67 per cm of navy", "band 67 turns of navy"},
        {"band twelve of navy", "band 12 turns of navy"},
        {"band rest of navy", "band fill of navy"},
        {"band 20 turns of navy  gap 2", "band 20 turns of navy  gap 2 mm"},
        {"band fill of navy { inlay 2 of navy at: 1/2 }", "band fill of navy { inlay 2 turns of navy at: 1/2 }"},
        {"band fill of navy { inlay 2 turns of navy at: middle }",
         "band fill of navy { inlay 2 turns of navy at: 1/2 }"},
        {"repeat three { band 20 turns of navy }", "repeat 3 { band 20 turns of navy }"},
        {"repeat 3 turns { band 20 turns of navy }", "repeat 3 { band 20 turns of navy }"},
    };
    CHECK(LAYER, widths);
    static const Slip measured[] = {
        {"band 6 of navy  band 9 mm of navy  band 8 mm of navy  band 8 mm of navy",
         "band 6 mm of navy  band 9 mm of navy  band 8 mm of navy  band 8 mm of navy"},
    };
    CHECK(LAYER, measured);
    static const Slip inches[] = {{"band 1/2 of navy", "band 1/2 in of navy"},
                                  {"band 3/8 of navy", "band 3/8 in of navy"}};
    CHECK(INCHES, inches);
    static const Slip marks[] = {
        {"60", "60 cm"},
        {"30 %", "30 cm"},
        {"20 cm length: 50", "20 cm length: 50 mm"},
        {"20 cm length: 50 %", "20 cm length: 50 mm"},
        {"[20 cm, 26 cm]", "20 cm length: 6 cm"},
        {"20 cm - 26 cm", "20 cm length: 6 cm"},
        {"tip - 30 cm", "30 cm from: tip"},
    };
    CHECK(PLACE, marks);
}

/* A number out of its range: another unit, a point elsewhere, a per cent sign, before the bound. */
static void numbers_out_of_range(void **state)
{
    (void)state;
    static const Slip threads[] = {
        {"diameter: 15 mm", "diameter: 0.15 mm"},
        {"diameter: 15 %", "diameter: 0.15 mm"},
        {"diameter: 0.15", "diameter: 0.15 mm"},
        {"diameter: 11 mm", "diameter: 0.11 mm"},
        {"turns: 67", "turns: 67 per cm"},
        {"turns: 67 %", "turns: 67 per cm"},
        {"turns: 170", "turns: 170 per in"},
        {"turns: 170 in", "turns: 170 per in"},
        {"turns: 0.15 mm", "diameter: 0.15 mm"},
        {"diameter: 67 per cm", "turns: 67 per cm"},
        {"size: 0.15 mm", "diameter: 0.15 mm"},
        {"tex: 20, fibre: silk, fullness: 75", "tex: 20, fibre: silk, fullness: 75 %"},
        {"tex: 20, fibre: silk, fullness: 0.75123456 %", "tex: 20, fibre: silk, fullness: 75.1235 %"},
    };
    CHECK("edition 1\nthread navy { @ }\n" BLANK "rod \"Meant\" on tube { at 20 cm { band 20 turns of navy } }\n",
          threads);
    static const Slip benches[] = {
        {"hand: 1.5 mm", "hand: 1.5 m"}, {"hand: 3/2", "hand: 3/2 m"},    {"tolerance: 50 %", "tolerance: 0.5 mm"},
        {"bind: 3", "bind: 3 turns"},    {"hand: 99 mm", "hand: 100 mm"},
    };
    CHECK("edition 1\nbench { units: mm, @ }\nthread navy { turns: 67 per cm }\n" BLANK
          "rod \"Meant\" on tube { at 20 cm { band 20 turns of navy } }\n",
          benches);
}

static void names(void **state)
{
    (void)state;
    static const Slip names[] = {
        {"band 20 turns of Navy", "band 20 turns of navy"},
        {"band 20 turns of nvay", "band 20 turns of navy"},
        {"band 20 turns of darkblue", "band 20 turns of dark_blue"},
        {"band 20 turns of dark-blue", "band 20 turns of dark_blue"},
        {"band 20 turns of \"dark blue\"", "band 20 turns of dark_blue"},
        {"band 20 turns of #1d2f57", "band 20 turns of dark_blue"},
        {"band 20 turns of shop.navy", "band 20 turns of navy"},
        {"foots(navy, dark_blue)", "foot(navy, dark_blue)"},
        {"Foot(navy, dark_blue)", "foot(navy, dark_blue)"},
    };
    CHECK(LAYER, names);
    /* a pattern's name is never offered for a thread, and a thread's never for a pattern */
    static const Slip kinds[] = {{"foo", "navy"}, {"foot", "navy"}};
    CHECK("edition 1\n" BLANK
          "pattern foot(main: thread) { band 20 turns of main }\nthread navy { turns: 67 per cm }\n"
          "pattern other(navy: thread) { band 20 turns of navy  band 20 turns of @ }\n"
          "rod \"Meant\" on tube { at 20 cm { other(navy)  foot(navy) } }\n",
          kinds);
    static const Slip blanks[] = {{"tubes", "tube"}, {"navy", "tube"}, {"pike", "tube"}};
    CHECK(THREADS BLANK "rod \"Meant\" on @ { at 20 cm { band 20 turns of navy } }\n", blanks);
    static const Slip guides[] = {{"rign", "ring"}, {"\"ring\"", "ring"}, {"other", "ring"}};
    CHECK(THREADS BLANK GUIDE "rod \"Meant\" on tube { at 20 cm guide: @ { band 20 turns of navy } }\n", guides);
    static const Slip sizes[] = {{"a", "A"}, {"\"A\"", "A"}, {"00", "double_nought"}};
    CHECK("edition 1\nsize double_nought { diameter: 0.13 mm }\nthread navy { size: @ }\n" BLANK
          "rod \"Meant\" on tube { at 20 cm { band 20 turns of navy } }\n",
          sizes);
}

/* What nobody declares is declared: as wide as the other threads, or by the standard library's file. */
static void names_that_nobody_declares(void **state)
{
    (void)state;
    static const Slip declared[] = {
        {"", "thread crimson { turns: 67 per cm, colour: crimson }\n"},
    };
    CHECK("edition 1\n@thread navy { turns: 67 per cm, colour: #22346b }\n" BLANK
          "rod \"Meant\" on tube { at 20 cm { band 20 turns of navy  band 20 turns of crimson } }\n",
          declared);
    static const Slip library[] = {{"", "\nuse \"std/trims\""}};
    CHECK("edition 1@\nthread navy { turns: 67 per cm }\n" BLANK
          "rod \"Meant\" on tube { at 20 cm { pinstripe(navy, navy) } }\n",
          library);
    static const Slip lets[] = {{"", "\nlet wide = 12 mm"}};
    CHECK("edition 1@\nthread navy { turns: 67 per cm }\n" BLANK
          "rod \"Meant\" on tube { at 20 cm { band wide of navy } }\n",
          lets);
    static const Slip files[] = {
        {"trims", "std/trims"},         {"std/trim", "std/trims"},        {"std/Trims", "std/trims"},
        {"std/trims.lay", "std/trims"}, {"stdlib/foot", "std/foot"},      {"std\\\\tip", "std/tip"},
        {"/yard/yarns", "yard/yarns"},  {"yard/yarns.lay", "yard/yarns"}, {"Yard/Yarns", "yard/yarns"},
    };
    CHECK("edition 1\nuse \"@\"\nthread navy { turns: 67 per cm }\n" BLANK
          "rod \"Meant\" on tube { at 20 cm { band 20 turns of navy } }\n",
          files);
    static const Slip aliases[] = {{"shop.rust", "rust"}, {"rsut", "rust"}};
    CHECK("edition 1\nuse \"shop\"\n" BLANK "rod \"Meant\" on tube { at 20 cm { band 20 turns of @ } }\n",
          aliases);
    static const Slip mistyped[] = {{"sholf.rust", "shelf.rust"}, {"seff.rust", "shelf.rust"}};
    CHECK("edition 1\nuse \"shop\" as shelf\n" BLANK "rod \"Meant\" on tube { at 20 cm { band 20 turns of @ } }\n",
          mistyped);
}

/* Too far from any name to be a slip of it; a number in letters is none of threads. */
static void names_that_are_not_near(void **state)
{
    (void)state;
    static const char *const words[] = {"nxy", "xxxy", "navigator", "y", "five"};
    for (size_t i = 0; i < sizeof words / sizeof *words; i++) {
        char text[LONGEST_TEXT], mended[LONGEST_TEXT], meant[LONGEST_TEXT];
        sprintf(text,
                "edition 1\nthread navy { turns: 67 per cm }\n" BLANK
                "rod \"Meant\" on tube { at 20 cm { band 20 turns of %s } }\n",
                words[i]);
        sprintf(meant,
                "edition 1\nthread %s { turns: 67 per cm }\nthread navy { turns: 67 per cm }\n" BLANK
                "rod \"Meant\" on tube { at 20 cm { band 20 turns of %s } }\n",
                words[i], words[i]);
        mend(text, mended);
        assert_string_equal(mended, meant);
    }
}

static void options_and_their_words(void **state)
{
    (void)state;
    static const Slip threads[] = {
        {"color: #22346b", "colour: #22346b"},
        {"colour: Blue", "colour: blue"},
        {"colour: navyblue", "colour: navy"},
        {"colour: teel", "colour: teal"},
        {"colour: light_blue", "colour: lightblue"},
        {"colour: light blue", "colour: lightblue"},
        {"bare: Dark Green", "bare: DarkGreen"},
        {"bare: dark green, price: 3", "bare: darkgreen, price: 3"},
        {"colours: navy, period: 9 cm", "colours: [navy], period: 9 cm"},
        {"colours: navy, skyblue, teal, period: 9 cm", "colours: [navy, skyblue, teal], period: 9 cm"},
        {"colours: navy, skyblue, period: 9 cm", "colours: [navy, skyblue], period: 9 cm"},
        {"colours: [\"navy\", \"Sky Blue\"], period: 9 cm", "colours: [navy, skyblue], period: 9 cm"},
        {"colour: [navy, #ffffff]", "colours: [navy, #ffffff]"},
        {"colour: \"Sky blue\"", "colour: skyblue"},
        {"colour: unheard", "colour: #22346b"},
        {"colour: #navy", "colour: navy"},
        {"colour: #unheard", "colour: #22346b"},
        {"colour: \"#dfe9ef\"", "colour: #dfe9ef"},
        {"colour: dfe9ef", "colour: #dfe9ef"},
        {"colour: 223344", "colour: #223344"},
        {"fiber: silk", "fibre: silk"},
        {"fibre: Silk", "fibre: silk"},
        {"fibre: rayon", "fibre: viscose"},
        {"preserver: true", "preserver: yes"},
        {"preserver: off", "preserver: no"},
        {"preserver: \"no\"", "preserver: no"},
        {"stock: 100", "stock: 100 m"},
        {"opacity: 65", "opacity: 65 %"},
        {"alpha: 65 %", "opacity: 65 %"},
        {"opaque: 65 %", "opacity: 65 %"},
        {"cover: 65 %", "opacity: 65 %"},
        {"opacity: 140 %", "opacity: 1"},
        {"finish: matt", "sheen: matt"},
        {"shine: matt", "sheen: matt"},
        {"lustre: matt", "sheen: matt"},
        {"sheen: shiny", "sheen: gloss"},
        {"sheen: glossy", "sheen: gloss"},
        {"sheen: bright", "sheen: gloss"},
        {"sheen: matte", "sheen: matt"},
        {"sheen: dull", "sheen: matt"},
        {"metallic: yes", "sheen: metallic"},
        {"matt: yes", "sheen: matt"},
        {"sheen: satin", "sheen: matt"},
        {"sheen: flat", "sheen: matt"},
        {"sheen: metal", "sheen: metallic"},
        {"sheen: chrome", "sheen: metallic"},
        {"sheen: foil", "sheen: metallic"},
        {"sheen: \"matt\"", "sheen: matt"},
        {"sku: \"N 104\"", "code: \"N 104\""},
        {"number: \"N 104\"", "code: \"N 104\""},
        {"article: \"104\"", "code: \"104\""},
        {"code: 104", "code: \"104\""},
    };
    CHECK("edition 1\nthread navy { turns: 67 per cm, @ }\n" BLANK
          "rod \"Meant\" on tube { at 20 cm { band 20 turns of navy } }\n",
          threads);
    static const Slip widths[] = {
        {"dia: 0.15 mm", "diameter: 0.15 mm"},
        {"width: 0.15 mm", "diameter: 0.15 mm"},
        {"tpi: 170", "turns: 170 per in"},
    };
    CHECK("edition 1\nthread navy { @ }\n" BLANK "rod \"Meant\" on tube { at 20 cm { band 20 turns of navy } }\n",
          widths);
    static const Slip places[] = {
        {"20 cm lenght: 50 mm", "20 cm length: 50 mm"}, {"20 cm width: 50 mm", "20 cm length: 50 mm"},
        {"20 cm toward: handle", "20 cm toward: butt"}, {"20 cm from: top", "20 cm from: tip"},
        {"20 cm to: butt", "20 cm toward: butt"},       {"20 cm steps: 4", "20 cm"},
    };
    CHECK(PLACE, places);
    static const Slip sections[] = {
        {"overlap: 6", "overlap: 6 cm"},
        {"overlap: 6 m", "overlap: 6 cm"},
        {"overlap: [6 m]", "overlap: [6 cm]"},
        {"joint: 6 cm", "overlap: 6 cm"},
        {"lap: 6 cm", "overlap: 6 cm"},
        {"spigot: 6 cm", "overlap: 6 cm"},
        {"sleeve: 6 cm", "overlap: 6 cm"},
        {"ferrule: 6 cm", "overlap: 6 cm"},
        {"overlap: 6 cm inner: butt", "overlap: 6 cm inside: butt"},
        {"overlap: 6 cm inside: top", "overlap: 6 cm inside: tip"},
    };
    CHECK(THREADS
          "blank low { at 0 mm: 13 mm  at 100 cm: 7 mm }\nblank high { at 0 mm: 7.4 mm  at 100 cm: 2 mm }\n"
          "rod \"Meant\" on [low, high] @ { at 20 cm { band 20 turns of navy } }\n",
          sections);
    static const Slip layers[] = {
        {"band 20 turns of navy  fade to dark_blue step: 4", "band 20 turns of navy  fade to dark_blue steps: 4"},
        {"band 20 turns of navy  fade to dark_blue even: 24 turns",
         "band 20 turns of navy  fade to dark_blue over: 24 turns"},
        {"band 20 turns of navy  fade to dark_blue over: 24 turns steps: 4",
         "band 20 turns of navy  fade to dark_blue over: 24 turns"},
        {"band 20 turns of navy  fade to dark_blue", "band 20 turns of navy  fade to dark_blue steps: 4"},
        {"band 20 turns of navy  fade to navy steps: 4", "band 20 turns of navy  fade to dark_blue steps: 4"},
        {"fade to navy steps: 4", "band 8 turns of dark_blue  fade to navy steps: 4"},
        {"band 20 turns of navy gap: 2 mm", "band 20 turns of navy gap 2 mm"},
        {"fade 20 mm of [navy, dark_blue, navy] steps: 20", "fade 20 mm of [navy, dark_blue, navy] steps: 7"},
        {"fade 134 turns of [navy, dark_blue, navy] steps: 20",
         "fade 134 turns of [navy, dark_blue, navy] steps: 7"},
        {"fade 20 turns of [navy, dark_blue, navy] steps: 3", "fade 27 turns of [navy, dark_blue, navy] steps: 3"},
    };
    CHECK(LAYER, layers);
    static const Slip guides[] = {
        {"length: 14 mm", "foot: 14 mm"},
        {"foot: 14", "foot: 14 mm"},
        {"foot: [14 mm]", "foot: 14 mm"},
        {"foot: [14, 14]", "foot: [14 mm, 14 mm]"},
        {"foot: 14 mm and 15 mm", "foot: [14 mm, 15 mm]"},
        {"foot: 14 mm/15 mm", "foot: [14 mm, 15 mm]"},
    };
    static const Slip blanks[] = {
        {"color: red", "colour: red"},
        {"shade: #223344", "colour: #223344"},
        {"Colour: red", "colour: red"},
        {"Color: #223344", "colour: #223344"},
        {"finish: matt", "sheen: matt"},
        {"shine: matt", "sheen: matt"},
        {"lustre: metallic", "sheen: metallic"},
        {"sheen: matte", "sheen: matt"},
        {"colour: dark green", "colour: darkgreen"},
        {"colour: Teal", "colour: teal"},
    };
    CHECK("edition 1\nthread navy { turns: 67 per cm, colour: #22346b }\n"
          "blank tube { @, at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
          "rod \"Meant\" on tube { at 20 cm { band 20 turns of navy } }\n",
          blanks);
    static const Slip looks[] = {
        {"ring_size: 12 mm", "ring: 12 mm"},
        {"diameter: 12 mm", "ring: 12 mm"},
        {"size: 12 mm", "ring: 12 mm"},
        {"ring: 12", "ring: 12 mm"},
        {"stand: 20 mm", "tall: 20 mm"},
        {"ring_height: 20 mm", "tall: 20 mm"},
        {"tall: 20", "tall: 20 mm"},
        {"ring: 12 mm, tall: 9 mm", "ring: 12 mm, tall: 12 mm"},
        {"colour: #202428", "frame: #202428"},
        {"color: #202428", "frame: #202428"},
        {"frame_colour: #202428", "frame: #202428"},
        {"ring_colour: #202428", "insert: #202428"},
        {"insert: dim gray }", "insert: dimgray }"},
        {"frame: navy_blue", "frame: navy"},
        {"frame: dark_blue", "frame: #1d2f57"},
        {"inlay: #202428", "insert: #202428"},
        {"finish: matt", "sheen: matt"},
        {"shine: matt", "sheen: matt"},
    };
    CHECK(THREADS BLANK
          "guide ring { @ }\nrod \"Meant\" on tube { at 20 cm guide: ring { band 20 turns of navy } }\n",
          guides);
    CHECK(THREADS BLANK "guide ring { foot: 14 mm, @ }\n"
                        "rod \"Meant\" on tube { at 20 cm guide: ring { band 20 turns of navy } }\n",
          looks);
}

static void calls_and_parameters(void **state)
{
    (void)state;
    static const Slip calls[] = {
        {"foot(navy)", "foot(navy, trim: dark_blue)"},
        {"foot(navy, dark_blue, 8)", "foot(navy, dark_blue, 8 turns)"},
        {"foot(navy, dark_blue, 9 turns, 4)", "foot(navy, dark_blue, 9 turns)"},
        {"foot(navy, dark_blue, edges: 9 turns)", "foot(navy, dark_blue, edge: 9 turns)"},
        {"foot(navy, dark_blue, collar: 9 turns)", "foot(navy, dark_blue, edge: 9 turns)"},
        {"foot(9 turns, navy, dark_blue)", "foot(navy, dark_blue, 9 turns)"},
        {"foot(navy and dark_blue)", "foot(navy, dark_blue)"},
        {"foot(navy. dark_blue)", "foot(navy, dark_blue)"},
        {"stripes(navy, dark_blue, 9 turns)", "stripes([navy, dark_blue], 9 turns)"},
        {"stripes(9 turns, [navy, dark_blue])", "stripes([navy, dark_blue], 9 turns)"},
        {"stripes([navy, dark_blue], each: 9 turns, each: [navy])", "stripes([navy, dark_blue], each: 9 turns)"},
    };
    CHECK(LAYER, calls);
    static const Slip kinds[] = {{"count", "turns"}, {"int", "turns"}, {"turn", "turns"}, {"length", "turns"}};
    CHECK(THREADS BLANK "pattern edged(main: thread, edge: @ = 9 turns) { band edge of main }\n"
                        "rod \"Meant\" on tube { at 20 cm { edged(navy) } }\n",
          kinds);
    static const Slip lists[] = {{"thread", "threads"}};
    CHECK(THREADS BLANK "pattern striped(shades: @) { for one in shades { band 20 turns of one } }\n"
                        "rod \"Meant\" on tube { at 20 cm { striped([navy, dark_blue]) } }\n",
          lists);
    static const Slip numbers[] = {{"each", "wide"}, {"wdie", "wide"}};
    CHECK(THREADS BLANK
          "pattern stripe(main: thread, wide: turns) { require @ >= 6 turns, \"six\"  band wide of main }\n"
          "rod \"Meant\" on tube { at 20 cm { stripe(navy, 20 turns) } }\n",
          numbers);
    static const Slip uses[] = {{"thread", "turns"}, {"thraed", "thread"}};
    CHECK(THREADS BLANK
          "pattern wide(main: thread, each: @) { require each >= 6 turns, \"six\"  band each of main }\n"
          "rod \"Meant\" on tube { at 20 cm { band 20 turns of navy } }\n",
          uses);
    static const Slip required[] = {{"4 turns", "6 turns"}};
    CHECK(THREADS BLANK
          "pattern held(main: thread, edge: turns) { require edge >= 6 turns, \"six\"  band edge of main }\n"
          "rod \"Meant\" on tube { at 20 cm { band 20 turns of navy  held(navy, @) } }\n",
          required);
}

static void statements_elsewhere(void **state)
{
    (void)state;
    static const Slip layers[] = {
        {"band 20 turns of navy inlay 2 turns of dark_blue at: 1/2",
         "band 20 turns of navy { inlay 2 turns of dark_blue at: 1/2 }"},
        {"band 20 turns of navy { inlay 1 turn of navy at: 1/3 } inlay 2 turns of dark_blue at: 2/3",
         "band 20 turns of navy { inlay 1 turn of navy at: 1/3  inlay 2 turns of dark_blue at: 2/3 }"},
        {"inlay 20 turns of navy at: 1/2", "band 20 turns of navy"},
        {"band 20 turns of navy { band 2 turns of dark_blue }",
         "band 20 turns of navy { inlay 2 turns of dark_blue at: 1/2 }"},
        {"chevron crossings: 3 ends: 12 turns of navy { band 2 turns of navy }",
         "chevron crossings: 3 ends: 12 turns of navy { strand 2 of navy }"},
        {"chevron crossings: 3 ends: 12 turns of navy { strand 2 turns of navy }",
         "chevron crossings: 3 ends: 12 turns of navy { strand 2 of navy }"},
        {"chevron crossings: 3 ends: 12 turns of navy { strand two of navy }",
         "chevron crossings: 3 ends: 12 turns of navy { strand 2 of navy }"},
        {"chevron crossings: 3 ends: 12 turns of navy { }",
         "chevron crossings: 3 ends: 12 turns of navy {  strand 4 of navy }"},
        {"chevron crossings: 20 mm ends: 12 turns of navy { strand 2 of navy }",
         "chevron spacing: 20 mm ends: 12 turns of navy { strand 2 of navy }"},
        {"spiral crossings: 3 ends: 12 turns of navy { strand 2 of navy }",
         "spiral turns: 3 turns ends: 12 turns of navy { strand 2 of navy }"},
        {"for i in 3 { band 20 turns of navy }", "for i in 1 to 3 { band 20 turns of navy }"},
        {"for i in 1-3 { band 20 turns of navy }", "for i in 1 to 3 { band 20 turns of navy }"},
        {"for i in range(1, 3) { band 20 turns of navy }", "for i in 1 to 3 { band 20 turns of navy }"},
        {"band 20 turns of navy fade to dark_blue runs: [[1, 2], [2, 1]]",
         "band 20 turns of navy fade to dark_blue runs: [in 1 out 2, in 2 out 1]"},
        {"band fill of navy  chevron crossings: 3 ends: 12 turns of navy { strand 2 of navy }",
         "under { band fill of navy }  chevron crossings: 3 ends: 12 turns of navy { strand 2 of navy }"},
        {"chevron crossings: 3 ends: 12 turns of navy { strand 2 of navy }  band fill of navy",
         "chevron crossings: 3 ends: 12 turns of navy { strand 2 of navy }  over { band fill of navy }"},
        {"band fill of navy  over { band 20 turns of navy }",
         "over { band fill of navy }  over { band 20 turns of navy }"},
        {"mirror foot(navy, dark_blue)", "mirror { foot(navy, dark_blue) }"},
        {"symmetric foot(navy, dark_blue)", "symmetric { foot(navy, dark_blue) }"},
    };
    CHECK(LAYER, layers);
}

/* Of two stations that do not rise, the one without which the others do is moved. */
static void stations_out_of_order(void **state)
{
    (void)state;
    static const Slip stations[] = {
        {"at 0 mm: 12 mm  at 100 cm: 4 mm  at 80 cm: 5 mm", "at 0 mm: 12 mm  at 80 cm: 5 mm  at 100 cm: 4 mm"},
        {"at 0 mm: 12 mm  at 200 cm: 4 mm  at 50 cm: 9 mm  at 80 cm: 5 mm",
         "at 0 mm: 12 mm  at 50 cm: 9 mm  at 80 cm: 5 mm  at 200 cm: 4 mm"},
        {"at 90 cm: 4 mm  at 0 mm: 12 mm  at 50 cm: 9 mm  at 100 cm: 3 mm",
         "at 0 mm: 12 mm  at 50 cm: 9 mm  at 90 cm: 4 mm  at 100 cm: 3 mm"},
        {"at 0 mm: 12 mm  at 50 cm: 9 mm  at 50 cm: 9 mm  at 100 cm: 3 mm",
         "at 0 mm: 12 mm  at 50 cm: 9 mm  at 100 cm: 3 mm"},
    };
    CHECK("edition 1\nthread navy { turns: 67 per cm }\nblank tube { @ }\n"
          "rod \"Meant\" on tube { at 20 cm { band 20 turns of navy } }\n",
          stations);
}

static const Finding *finding_of(const Compilation *made, FindingCode code)
{
    for (uint32_t i = 0; i < made->findings.list.count; i++)
        if (made->findings.list.items[i].code == code)
            return &made->findings.list.items[i];
    fail_msg("no %s", finding_code_text(code));
    return NULL;
}

/* What has an error is mended for that first: no second edit of the same option. */
static void options_with_an_error(void **state)
{
    (void)state;
    static const struct {
        const char *bench, *thread;
        FindingCode code;
    } cases[] = {
        {"hand: 99 mm", "turns: 67 per cm", FINDING_PIECE_TOO_LONG},
        {"measure: 2000000 turns", "turns: 67 per cm, uncertainty: 10 %", FINDING_DRIFT},
        {"hand: 9 m", "tex: 0.01, fibre: nylon", FINDING_NOMINAL_DIAMETER},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char text[LONGEST_TEXT];
        sprintf(
            text,
            "edition 1\nbench { units: mm, %s }\nthread navy { %s }\nthread foam { turns: 67 per cm }\n" BLANK
            "rod \"Meant\" on tube { at 20 cm { band 40 turns of navy  fade to foam steps: 4  band 40 turns of "
            "foam } }\n",
            cases[i].bench, cases[i].thread);
        Compilation *made = compiled(text);
        assert_true(finding_of(made, FINDING_OUT_OF_RANGE)->has_edit);
        assert_false(finding_of(made, cases[i].code)->has_edit);
        turnlay_free(made);
    }
}

#define ON_A_ROD THREADS BLANK "rod \"R\" on tube {\n    @\n}\n"
#define GRIP "part grip at 0 cm length: 24 cm\n    part check at 30 cm length: 3 mm\n    "

/* What is written of a part, and of its ends. */
static void parts_of_a_rod(void **state)
{
    (void)state;
    static const Slip options[] = {
        {"part a at 5 { note: \"x\" }", "part a at 5 cm { note: \"x\" }"},
        {"part a at 5 cm length: 12", "part a at 5 cm length: 12 mm"},
        {"part a at 5 cm length: 12 cm { diameter: 26 }", "part a at 5 cm length: 12 cm { diameter: 26 mm }"},
        {"part a at 5 cm up_to: 12 cm", "part a at 5 cm until: 12 cm"},
        {"part a at 5 cm to: 12 cm", "part a at 5 cm until: 12 cm"},
        {"part a at 5 cm till: 12 cm", "part a at 5 cm until: 12 cm"},
        {"part a at 5 cm end: 12 cm", "part a at 5 cm until: 12 cm"},
        {"part a at 5 cm long: 12 cm", "part a at 5 cm length: 12 cm"},
        {"part a at 5 cm len: 12 cm", "part a at 5 cm length: 12 cm"},
        {"part a at 5 cm width: 12 cm", "part a at 5 cm length: 12 cm"},
        {"part a at 5 cm direction: tip", "part a at 5 cm toward: tip"},
        {"part a at 5 cm towards: tip", "part a at 5 cm toward: tip"},
        {"part a at 5 cm { dia: 26 mm }", "part a at 5 cm { diameter: 26 mm }"},
        {"part a at 5 cm { diameters: 26 mm }", "part a at 5 cm { diameter: 26 mm }"},
        {"part a at 5 cm { thickness: 26 mm }", "part a at 5 cm { diameter: 26 mm }"},
        {"part a at 5 cm { thick: 26 mm }", "part a at 5 cm { diameter: 26 mm }"},
        {"part a at 5 cm { od: 26 mm }", "part a at 5 cm { diameter: 26 mm }"},
        {"part a at 5 cm { color: #123456 }", "part a at 5 cm { colour: #123456 }"},
        {"part a at 5 cm { hex: #123456 }", "part a at 5 cm { colour: #123456 }"},
        {"part a at 5 cm { finish: matt }", "part a at 5 cm { sheen: matt }"},
        {"part a at 5 cm { shine: matt }", "part a at 5 cm { sheen: matt }"},
        {"part a at 5 cm { text: \"x\" }", "part a at 5 cm { note: \"x\" }"},
        {"part a at 5 cm { label: \"x\" }", "part a at 5 cm { note: \"x\" }"},
        {"part a at 5 cm { words: \"x\" }", "part a at 5 cm { note: \"x\" }"},
        {"part a at 5 cm { comment: \"x\" }", "part a at 5 cm { note: \"x\" }"},
        {"part a at 5 cm { wrap: yes }", "part a at 5 cm { wrapped: yes }"},
        {"part a at 5 cm { wrapped_over: yes }", "part a at 5 cm { wrapped: yes }"},
        {"part a at 5 cm length: 9 cm until: 14 cm", "part a at 5 cm length: 9 cm"},
        {"part a at 5 cm toward: tip until: 14 cm", "part a at 5 cm until: 14 cm"},
        {"part a at 14 cm until: 5 cm toward: tip", "part a at 14 cm until: 5 cm"},
    };
    CHECK(ON_A_ROD, options);
    static const Slip ends[] = {
        {"at grip { band 20 turns of navy }", "at grip.tip { band 20 turns of navy }"},
        {"at grip.end { band 20 turns of navy }", "at grip.tip { band 20 turns of navy }"},
        {"at check.start until: grip.tip { band fill of navy }",
         "at check.butt until: grip.tip { band fill of navy }"},
        {"at grip.tip until: check { band fill of navy }", "at grip.tip until: check.butt { band fill of navy }"},
        {"at check.butt until: check { band fill of navy }",
         "at check.butt until: check.tip { band fill of navy }"},
        {"at check.tip until: check { band fill of navy }",
         "at check.tip until: check.butt { band fill of navy }"},
        {"at gripp.tip { band 20 turns of navy }", "at grip.tip { band 20 turns of navy }"},
        {"at grip_tip { band 20 turns of navy }", "at grip.tip { band 20 turns of navy }"},
        {"at grip.tip from: tip { band 20 turns of navy }", "at grip.tip { band 20 turns of navy }"},
        {"at 2 cm from: tip until: grip.tip { band 20 turns of navy }",
         "at 2 cm until: grip.tip { band 20 turns of navy }"},
        {"at grip.tip + 4 { band 20 turns of navy }", "at grip.tip + 4 mm { band 20 turns of navy }"},
        {"part seat at grip length: 2 cm", "part seat at grip.tip length: 2 cm"},
        {"part seat at grip.tip from: tip length: 2 cm", "part seat at grip.tip length: 2 cm"},
        {"at grip.tip up_to: check.butt { band fill of navy }",
         "at grip.tip until: check.butt { band fill of navy }"},
        {"at grip.tip till: check.butt { band fill of navy }",
         "at grip.tip until: check.butt { band fill of navy }"},
        {"at grip.tip end: check.butt { band fill of navy }",
         "at grip.tip until: check.butt { band fill of navy }"},
    };
    CHECK(THREADS BLANK "rod \"R\" on tube {\n    " GRIP "@\n}\n", ends);
}

/* Without a width: through a list that has a name, and through one that is written out. */
static void fades_without_a_width(void **state)
{
    (void)state;
    static const Slip slips[] = {
        {"fade shades steps: 3", "fade fill of shades steps: 3"},
        {"fade [navy, dark_blue] steps: 3", "fade fill of [navy, dark_blue] steps: 3"},
        {"fade [navy, dark_blue, navy]  band 20 turns of navy",
         "fade fill of [navy, dark_blue, navy]  band 20 turns of navy"},
        {"fade [navy, dark_blue]", "fade fill of [navy, dark_blue]"},
    };
    CHECK(THREADS "let shades = [navy, dark_blue]\n" BLANK
                  "rod \"Meant\" on tube { at 20 cm length: 60 mm { band 20 turns of navy  @ } }\n",
          slips);
}

/* A fade that has no extent gets one that it can be wound in: the mend is compiled, too. */
static void test_extents_of_fades(void **state)
{
    (void)state;
    static const struct {
        const char *form;
        Slip slips[18];
    } cases[] = {
        {"edition 1\nthread peat { turns: 66 per cm, colour: #3b2418 }\nthread rust { turns: 66 per cm }\n"
         "thread amber { turns: 64 per cm, colour: #d69a2d }\nblank tube { at 0 cm: 12 mm  at 100 cm: 4 mm }\n"
         "rod \"R\" on tube { at 30 cm { band 30 turns of peat @ band 30 turns of amber } }\n",
         {{"fade to amber over: 0 turns", "fade to amber over: 2 turns"},
          {"fade to amber over: 0 turns by: eye", "fade to amber over: 2 turns by: eye"},
          {"fade to amber over: -3 turns", "fade to amber over: 2 turns"},
          {"fade to amber over: 0.5 turns", "fade to amber over: 2 turns"},
          {"fade to amber over: 1.5 turns", "fade to amber over: 2 turns"},
          {"fade to amber over: 0 mm", "fade to amber over: 1 mm"},
          {"fade to amber over: 1 turn", "fade to amber over: 2 turns"},
          {"fade 0 turns of [peat, amber]", "fade 2 turns of [peat, amber]"},
          {"fade 0.5 turns of [peat, amber]", "fade 2 turns of [peat, amber]"},
          {"fade 0 turns of [peat, rust, amber]", "fade 4 turns of [peat, rust, amber]"},
          {"fade 2.5 turns of [peat, rust, amber]", "fade 4 turns of [peat, rust, amber]"},
          {"fade 0 turns of [peat, rust, amber] steps: 3", "fade 27 turns of [peat, rust, amber] steps: 3"},
          {"fade 0 turns of [peat, amber] over: 5 turns", "fade 7 turns of [peat, amber] over: 5 turns"},
          {"fade 0 turns of [peat, amber] over: 1 mm", "fade 9 turns of [peat, amber] over: 1 mm"},
          {"fade 0 turns of [peat, amber] over: 0 turns", "fade 0 turns of [peat, amber] over: 2 turns"},
          {"fade 0 mm of [peat, rust, amber] steps: 3", "fade 5 mm of [peat, rust, amber] steps: 3"}}},
        {"edition 1\nthread peat { turns: 10 per 9 mm }\nthread amber { turns: 10 per 12 mm }\n"
         "bench { carry: 1 turn }\n"
         "blank tube { at 0 cm: 12 mm  at 100 cm: 4 mm }\n"
         "rod \"R\" on tube { at 30 cm { band 30 turns of peat @ band 30 turns of amber } }\n",
         {{"fade to amber over: 0 mm", "fade to amber over: 3 mm"},
          {"fade 0 mm of [peat, amber]", "fade 3 mm of [peat, amber]"},
          {"fade 0 mm of [peat, amber, peat]", "fade 5 mm of [peat, amber, peat]"}}},
        {"edition 1\nbench { units: in }\nthread peat { turns: 10 per 1 in }\nthread amber { turns: 10 per 1 in }\n"
         "blank tube { at 0 in: 0.5 in  at 40 in: 0.2 in }\n"
         "rod \"R\" on tube { at 12 in { band 30 turns of peat @ band 30 turns of amber } }\n",
         {{"fade to amber over: 0 in", "fade to amber over: 0.25 in"}}},
        {"edition 1\nbench { units: in }\nthread peat { turns: 66 per cm }\nthread amber { turns: 66 per cm }\n"
         "blank tube { at 0 in: 0.5 in  at 40 in: 0.2 in }\n"
         "rod \"R\" on tube { at 12 in { band 30 turns of peat @ band 30 turns of amber } }\n",
         {{"fade to amber over: 0 in", "fade to amber over: 1/16 in"}}},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        for (const Slip *slip = cases[i].slips; slip->written; slip++) {
            check(cases[i].form, slip, 1);
            char text[LONGEST_TEXT];
            write_text(text, cases[i].form, slip->meant);
            Compilation *made = compiled(text);
            bool still_nothing = strstr(slip->meant, " 0 ") != NULL;
            if (made->findings.errors && !still_nothing)
                print_error("%s: %s\n", slip->meant, made->findings.list.items[0].message);
            assert_true(made->findings.errors == 0 || still_nothing);
            turnlay_free(made);
        }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(units_that_are_missing),
        cmocka_unit_test(numbers_out_of_range),
        cmocka_unit_test(names),
        cmocka_unit_test(names_that_nobody_declares),
        cmocka_unit_test(names_that_are_not_near),
        cmocka_unit_test(options_and_their_words),
        cmocka_unit_test(calls_and_parameters),
        cmocka_unit_test(statements_elsewhere),
        cmocka_unit_test(stations_out_of_order),
        cmocka_unit_test(options_with_an_error),
        cmocka_unit_test(parts_of_a_rod),
        cmocka_unit_test(fades_without_a_width),
        cmocka_unit_test(test_extents_of_fades),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
