/* What builders call things besides their names: each of these words has to end as the option, choice or number
 * that is meant. */
#include "meant.h"

/* In `form`, @ is an option with its value; `words` are what else it is called. */
typedef struct Called {
    const char *form, *option, *value, *words;
} Called;

/* Each of the words with what stands behind it ends as what is meant. */
static void check_words(const char *form, const char *all, const char *behind, const char *meant)
{
    char words[400];
    strcpy(words, all);
    for (char *word = strtok(words, " "); word; word = strtok(NULL, " ")) {
        char written[200];
        sprintf(written, "%s%s", word, behind);
        check(form, &(Slip){written, meant}, 1);
    }
}

static void check_called(const Called *called)
{
    char behind[200], meant[200];
    sprintf(behind, ": %s", called->value);
    sprintf(meant, "%s%s", called->option, behind);
    check_words(called->form, called->words, behind, meant);
}

#define ANYWHERE THREADS BLANK "rod \"Meant\" on tube { at 20 cm { band 20 turns of navy } }\n"
#define ABOUT ANYWHERE "about { @ }\n"
#define SIZE ANYWHERE "size fine { @ }\n"
#define THREAD ANYWHERE "thread gold { turns: 67 per cm, @ }\n"
#define MEASURED ANYWHERE "thread gold { @ }\n"
#define RING ANYWHERE "guide single { foot: 14 mm, @ }\n"
#define FOOT ANYWHERE "guide single { @ }\n"
#define BENCH THREADS BLANK "bench { @ }\nrod \"Meant\" on tube { at 20 cm { band 20 turns of navy } }\n"
#define SECTIONS                                                                                                  \
    THREADS "blank butt_piece { at 0 cm: 13 mm  at 110 cm: 7.6 mm }\n"                                            \
            "blank tip_piece { at 0 cm: 8.4 mm  at 110 cm: 2 mm }\n"                                              \
            "rod \"Meant\" on [butt_piece, tip_piece] @ { at 20 cm { band 20 turns of navy } }\n"
#define AT THREADS BLANK "rod \"Meant\" on tube { at 20 cm @ { band 20 turns of navy } }\n"
#define AT_GUIDE THREADS BLANK GUIDE "rod \"Meant\" on tube { at 20 cm @ { band 20 turns of navy } }\n"
#define SERIES_OF THREADS BLANK GUIDE "rod \"Meant\" on tube { series @ { band 20 turns of navy } }\n"
#define PART_OF THREADS BLANK "rod \"Meant\" on tube { part grip at 0 cm @ }\n"
#define PART_WITH PART_OF_LENGTH "{ @ } }\n"
#define PART_OF_LENGTH THREADS BLANK "rod \"Meant\" on tube { part grip at 0 cm length: 24 cm "
#define OVER                                                                                                      \
    THREADS BLANK "rod \"Meant\" on tube { at 20 cm length: 60 mm {\n"                                            \
                  "    under { band fill of navy }  over @ { band fill of dark_blue } } }\n"
#define OVER_LENGTH                                                                                               \
    THREADS BLANK "rod \"Meant\" on tube { at 20 cm length: 60 mm {\n"                                            \
                  "    under { band fill of navy }  over offset: 3 mm @ { band fill of dark_blue } } }\n"
#define FILLS                                                                                                     \
    THREADS BLANK "rod \"Meant\" on tube { at 20 cm length: 60 mm { band fill of navy @  band fill of dark_blue " \
                  "weight: 2 } }\n"
#define INLAY                                                                                                     \
    THREADS BLANK "rod \"Meant\" on tube { at 20 cm length: 60 mm {\n"                                            \
                  "    band fill of navy { inlay 2 turns of dark_blue @ } } }\n"
#define FADE                                                                                                      \
    THREADS BLANK "rod \"Meant\" on tube { at 20 cm { band 20 turns of navy  fade to dark_blue @  band 20 turns " \
                  "of dark_blue } }\n"
#define BY_EYE                                                                                                    \
    THREADS BLANK                                                                                                 \
        "rod \"Meant\" on tube { at 20 cm { band 20 turns of navy  fade to dark_blue steps: 4 @  band 20 "        \
        "turns of dark_blue } }\n"
#define FADE_BY                                                                                                   \
    THREADS BLANK "rod \"Meant\" on tube { at 20 cm { band 20 turns of navy  fade to dark_blue steps: 4 by: @  "  \
                  "band 20 turns of dark_blue } }\n"
#define CROSSING LAYER_OF "chevron @ ends: 12 turns of navy { strand 2 of navy } } }\n"
#define CROSSED LAYER_OF "chevron crossings: 4 @ ends: 12 turns of navy { strand 2 of navy } } }\n"
#define CHEVRON LAYER_OF "chevron crossings: 4 @ { strand 2 of navy } } }\n"
#define SPIRAL LAYER_OF "spiral @ ends: 12 turns of navy { strand 2 of navy } } }\n"
#define SPIRALLED LAYER_OF "spiral turns: 3 turns @ ends: 12 turns of navy { strand 2 of navy } } }\n"
#define LAYER_OF THREADS BLANK "rod \"Meant\" on tube { at 20 cm length: 60 mm { "

static void options(void **state)
{
    (void)state;
    static const Called all[] = {
        {ABOUT, "title", "\"Heron\"", "name"},
        {ABOUT, "author", "\"Bench\"", "by"},
        {ABOUT, "licence", "\"as you like\"", "license"},
        {SIZE, "diameter", "0.15 mm", "dia width thickness"},
        {THREAD, "colour", "#c8a24a", "color shade hex rgb"},
        {THREAD, "fibre", "nylon", "fiber material"},
        {THREAD, "spool", "100 m", "length"},
        {THREAD, "fullness", "75 %", "fill"},
        {THREAD, "opacity", "50 %", "alpha opaque cover"},
        {THREAD, "sheen", "matt", "finish shine lustre"},
        {THREAD, "code", "\"7\"", "sku number article"},
        {THREAD, "preserver", "yes", "preserve"},
        {MEASURED, "diameter", "0.15 mm", "dia width thickness pitch"},
        {MEASURED, "turns", "67 per cm", "wraps count rate density"},
        {FOOT, "foot", "14 mm", "feet length foot_length"},
        {RING, "gap", "8 mm", "space between"},
        {RING, "width", "2 mm", "wide foot_width"},
        {RING, "height", "0.8 mm", "high foot_height thickness"},
        {RING, "ramp", "5 mm", "taper"},
        {RING, "before", "3 mm", "lead"},
        {RING, "ring", "12 mm", "ring_size diameter size"},
        {RING, "frame", "#202428", "colour color frame_colour"},
        {RING, "insert", "#202428", "ring_colour inlay"},
        {RING, "sheen", "matt", "finish shine"},
        {BENCH, "units", "cm", "unit"},
        {BENCH, "free", "12 cm", "tail tag tags"},
        {BENCH, "coats", "3", "finish"},
        {BENCH, "speed", "90", "rpm"},
        {BENCH, "clean", "no", "degrease"},
        {BENCH, "line", "spine", "axis"},
        {BENCH, "drive", "pedal", "spindle motor"},
        {BENCH, "brake", "no", "clutch"},
        {BENCH, "prefer", "time", "preference spare save"},
        {BENCH, "bobbins", "2", "shuttles small_spools"},
        {BENCH, "sight", "1", "eye eyesight acuity"},
        {BENCH, "near", "50 cm", "close"},
        {BENCH, "far", "3 m", "distance away"},
        {SECTIONS, "overlap", "6 cm", "joint joints lap ferrule spigot sleeve"},
        {AT, "length", "60 mm", "room long width len for over size"},
        {AT, "toward", "butt", "to direction towards"},
        {AT, "angle", "30 deg", "rotation degrees deg orientation turn twist roll round clock turned"},
        {AT, "until", "30 cm", "up_to till end"},
        {AT_GUIDE, "guide", "ring", "ring"},
        {SERIES_OF, "first", "20 cm last: 60 cm count: 3", "start"},
        {SERIES_OF, "last", "60 cm first: 20 cm count: 3", "end to"},
        {SERIES_OF, "count", "3 first: 20 cm last: 60 cm", "number places"},
        {SERIES_OF, "progression", "110 % first: 20 cm last: 60 cm count: 3", "growth ratio factor"},
        {SERIES_OF, "guides", "[ring, ring] first: 20 cm last: 60 cm", "rings"},
        {PART_OF, "until", "12 cm", "to up_to till end"},
        {PART_OF, "length", "12 cm", "long len width"},
        {PART_OF_LENGTH "@ }\n", "toward", "tip", "direction towards"},
        {PART_WITH, "diameter", "26 mm", "dia diameters thickness thick od"},
        {PART_WITH, "colour", "#123456", "color hex"},
        {PART_WITH, "sheen", "matt", "finish shine"},
        {PART_WITH, "note", "\"cork\"", "text label words comment"},
        {PART_WITH, "slides", "yes", "slide sliding slides_on bored"},
        {PART_WITH, "wrapped", "yes", "wrap wrapped_over under"},
        {OVER, "offset", "5 mm", "start from shift inset at"},
        {OVER_LENGTH, "length", "40 mm", "width"},
        {FILLS, "weight", "2", "share"},
        {INLAY, "at", "1/2", "position pos where middle"},
        {INLAY, "every", "10 turns", "each spacing apart distance"},
        {FADE, "steps", "4", "count stages"},
        {FADE, "over", "24 turns", "length even across turns width"},
        {BY_EYE, "by", "eye", "chosen choose judged for using"},
        {CROSSING, "crossings", "4", "crosses points repeats count turns number"},
        {CROSSING, "spacing", "12 mm", "lead distance every pitch"},
        {CHEVRON, "ends", "12 turns of navy", "end edges bands"},
        {CROSSED, "pointing", "tip", "direction"},
        {CROSSED, "starts", "2", "strands"},
        {CROSSED, "field", "open", "background"},
        {SPIRAL, "turns", "3 turns", "rounds wraps"},
        {SPIRAL, "lead", "12 mm", "spacing pitch"},
        {SPIRALLED, "starts", "2", "strands stripes"},
    };
    for (size_t i = 0; i < sizeof all / sizeof *all; i++)
        check_called(&all[i]);
}

/* What is counted by the inch or the centimetre, and what is told by another unit. */
static void options_with_their_unit(void **state)
{
    (void)state;
    static const Slip threads[] = {
        {"tpi: 170", "turns: 170 per in"},
        {"wpi: 170", "turns: 170 per in"},
        {"turns_per_inch: 170", "turns: 170 per in"},
        {"turns_per_in: 170", "turns: 170 per in"},
        {"tpcm: 67", "turns: 67 per cm"},
        {"tpc: 67", "turns: 67 per cm"},
        {"turns_per_cm: 67", "turns: 67 per cm"},
        {"turns: 0.15 mm", "diameter: 0.15 mm"},
        {"diameter: 67 per cm", "turns: 67 per cm"},
        {"size: 0.15 mm", "diameter: 0.15 mm"},
        {"size: 67 per cm", "turns: 67 per cm"},
    };
    CHECK(MEASURED, threads);
    static const Slip weighed[] = {{"tex: 0.15 mm", "diameter: 0.15 mm"}, {"tex: 67 per cm", "turns: 67 per cm"}};
    CHECK(ANYWHERE "thread gold { @, fibre: nylon }\n", weighed);
    static const Slip prices[] = {{"price: 100 m", "spool: 100 m"}, {"cost: 3.20", "price: 3.20"}};
    CHECK(ANYWHERE "thread gold { turns: 67 per cm, @, stock: 100 m }\n", prices);
    static const Slip fades[] = {{"steps: 6 mm", "over: 6 mm"}};
    CHECK(FADE, fades);
    static const Slip by_eye[] = {{"eye: yes", "by: eye"}, {"smooth: yes", "by: eye"}, {"even: yes", "by: eye"}};
    CHECK(BY_EYE, by_eye);
    static const Slip inlays[] = {{"every: 50 %", "at: 50 %"}};
    CHECK(INLAY, inlays);
    static const Slip crossings[] = {
        {"crossings: 12 mm", "spacing: 12 mm"},
        {"crossings: 45 deg", "angle: 45 deg"},
        {"spacing: 45 deg", "angle: 45 deg"},
        {"angle: 12 mm", "spacing: 12 mm"},
    };
    CHECK(CROSSING, crossings);
    static const Slip spirals[] = {
        {"turns: 12 mm", "lead: 12 mm"},     {"turns: 45 deg", "angle: 45 deg"},
        {"lead: 3 turns", "turns: 3 turns"}, {"lead: 45 deg", "angle: 45 deg"},
        {"angle: 12 mm", "lead: 12 mm"},     {"angle: 3 turns", "turns: 3 turns"},
        {"crossings: 3", "turns: 3 turns"},
    };
    CHECK(SPIRAL, spirals);
}

/* In `form`, @ is a choice; `words` are what else it is called. */
static void choices(void **state)
{
    (void)state;
    static const struct {
        const char *form, *choice, *words;
    } all[] = {
        {THREADS BLANK "rod \"Meant\" on tube { at 20 cm toward: @ { band 20 turns of navy } }\n", "butt",
         "handle grip bottom reel back rear lower low butt_end"},
        {THREADS BLANK "rod \"Meant\" on tube { at 20 cm toward: @ { band 20 turns of navy } }\n", "tip",
         "top up upper end front forward tiptop tip_top tip_end"},
        {ANYWHERE "bench { units: @ }\n", "mm", "millimetres millimeters metric"},
        {ANYWHERE "bench { units: @ }\n", "cm", "centimetres centimeters"},
        {ANYWHERE "bench { units: @ }\n", "in", "inch inches imperial"},
        {ANYWHERE "bench { order: @ }\n", "source", "file written"},
        {ANYWHERE "bench { rotation: @ }\n", "toward", "me towards"},
        {ANYWHERE "bench { rotation: @ }\n", "away", "forwards"},
        {ANYWHERE "bench { ends: @ }\n", "pins", "pin"},
        {ANYWHERE "bench { drive: @ }\n", "pedal", "foot motor"},
        {ANYWHERE "bench { drive: @ }\n", "hand", "crank"},
        {ANYWHERE "bench { prefer: @ }\n", "ends", "cuts pieces"},
        {ANYWHERE "bench { prefer: @ }\n", "time", "fast minutes"},
        {ANYWHERE "bench { prefer: @ }\n", "thread", "waste length"},
        {ANYWHERE "bench { ends: @ }\n", "tape", "taped"},
        {ANYWHERE "bench { ends: @ }\n", "none", "nothing no off"},
        {FADE_BY, "eye", "yes sight eyes look looks vision smooth even colour color"},
        {FADE_BY, "count", "no numbers counts counting"},
        {ANYWHERE "thread gold { turns: 67 per cm, tex: 15, fibre: @ }\n", "nylon", "polyamide"},
        {ANYWHERE "thread gold { turns: 67 per cm, tex: 15, fibre: @ }\n", "viscose", "rayon"},
        {ANYWHERE "thread gold { turns: 67 per cm, tex: 15, fibre: @ }\n", "polyester", "poly"},
        {ANYWHERE "thread gold { turns: 67 per cm, sheen: @ }\n", "gloss", "shiny glossy bright"},
        {ANYWHERE "thread gold { turns: 67 per cm, sheen: @ }\n", "matt", "matte dull satin flat"},
        {ANYWHERE "thread gold { turns: 67 per cm, sheen: @ }\n", "metallic", "metal chrome foil"},
        {LAYER_OF "chevron crossings: 4 field: @ ends: 12 turns of navy { strand 2 of navy } } }\n", "closed",
         "shut full filled"},
        {LAYER_OF "chevron crossings: 4 field: @ ends: 12 turns of navy { strand 2 of navy } } }\n", "open",
         "bare clear"},
    };
    for (size_t i = 0; i < sizeof all / sizeof *all; i++) {
        char words[200];
        strcpy(words, all[i].words);
        for (char *word = strtok(words, " "); word; word = strtok(NULL, " "))
            check(all[i].form, &(Slip){word, all[i].choice}, 1);
    }
}

/* The numbers from one to twenty, and the tens: said of turns, of a loop's rounds, of a part of a band. */
static void numbers_in_words(void **state)
{
    (void)state;
    static const Slip turns[] = {
        {"five", "5"},     {"six", "6"},      {"seven", "7"},     {"eight", "8"},      {"nine", "9"},
        {"ten", "10"},     {"eleven", "11"},  {"twelve", "12"},   {"thirteen", "13"},  {"fourteen", "14"},
        {"fifteen", "15"}, {"sixteen", "16"}, {"eighteen", "18"}, {"twenty", "20"},    {"thirty", "30"},
        {"forty", "40"},   {"fifty", "50"},   {"sixty", "60"},    {"seventeen", "17"}, {"nineteen", "19"},
        {"seventy", "70"}, {"eighty", "80"},  {"ninety", "90"},
    };
    CHECK(LAYER_OF "band @ turns of navy } }\n", turns);
    static const Slip rounds[] = {
        {"one", "1"},   {"two", "2"},    {"three", "3"},  {"four", "4"},    {"five", "5"},    {"six", "6"},
        {"seven", "7"}, {"eight", "8"},  {"nine", "9"},   {"ten", "10"},    {"twelve", "12"}, {"once", "1"},
        {"twice", "2"}, {"thrice", "3"}, {"dozen", "12"}, {"twenty", "20"},
    };
    CHECK(THREADS BLANK "rod \"Meant\" on tube { at 20 cm { repeat @ { band 20 turns of navy } } }\n", rounds);
    static const Slip places[] = {
        {"half", "1/2"},    {"middle", "1/2"}, {"mid", "1/2"},     {"centre", "1/2"}, {"center", "1/2"},
        {"halfway", "1/2"}, {"third", "1/3"},  {"quarter", "1/4"}, {"½", "1/2"},      {"¼", "1/4"},
        {"¾", "3/4"},       {"⅓", "1/3"},      {"⅔", "2/3"},
    };
    CHECK(THREADS BLANK "rod \"Meant\" on tube { at 20 cm length: 60 mm {\n"
                        "    band fill of navy { inlay 2 turns of dark_blue at: @ } } }\n",
          places);
    static const Slip rests[] = {
        {"rest", "fill"},   {"all", "fill"},   {"remaining", "fill"}, {"remainder", "fill"},
        {"whole", "fill"},  {"full", "fill"},  {"auto", "fill"},      {"left", "fill"},
        {"filled", "fill"}, {"fills", "fill"}, {"room", "fill"},      {"everything", "fill"},
    };
    CHECK(LAYER_OF "band @ of navy } }\n", rests);
}

/* Units that the language has not, reckoned into one that it has. */
static void other_units(void **state)
{
    (void)state;
    static const Slip lengths[] = {
        {"6 thou", "0.006 in"}, {"12 thous", "0.012 in"},     {"8 mil", "0.008 in"},
        {"8 mils", "0.008 in"}, {"200 micron", "0.2 mm"},     {"250 microns", "0.25 mm"},
        {"150 um", "0.15 mm"},  {"150 \u00b5m", "0.15 mm"},   {"150 \u03bcm", "0.15 mm"},
        {"2.5 dm", "25 cm"},    {"35 hundredths", "0.35 mm"}, {"7 tenths", "0.7 mm"},
    };
    CHECK(THREADS "let wide = @\n" BLANK, lengths);
    static const Slip turns[] = {{"2 dozen", "24 turns"}};
    CHECK(LAYER_OF "band @ of navy } }\n", turns);
}

/* In `form`, @ is what is called by each of the words in place of the one that is meant. */
typedef struct Named {
    const char *form, *meant, *words;
} Named;

static void check_named(const Named *all, size_t count)
{
    for (size_t i = 0; i < count; i++)
        check_words(all[i].form, all[i].words, "", all[i].meant);
}

#define LONG(number)                                                                                              \
    THREADS BLANK "rod \"Meant\" on tube { at 20 cm length: " number " @ { band fill of navy } }\n"

static void units(void **state)
{
    (void)state;
    static const Named all[] = {
        {LONG("60"), "mm", "mms millimetre millimetres millimeter millimeters"},
        {LONG("6"), "cm", "cms centimetre centimetres centimeter centimeters"},
        {LONG("0.06"), "m", "metre metres meter meters"},
        {LONG("2"), "in", "inch inches ins"},
        {LONG("1/4"), "ft", "foot feet"},
        {LONG("1/12"), "yd", "yard yards yds"},
        {LAYER_OF "band 20 @ of navy } }\n", "turns",
         "wrap wraps wind winds round rounds rotations threads strands t x times tn trn coils loops passes rev revs "
         "revolutions revolution"},
        {THREADS BLANK "rod \"Meant\" on tube { at 20 cm angle: 30 @ { band 20 turns of navy } }\n", "deg",
         "degree degrees"},
        {ANYWHERE "thread gold { turns: 67 per cm, opacity: 50 @ }\n", "%", "percent"},
    };
    check_named(all, sizeof all / sizeof *all);
}

#define TAKEN ANYWHERE "pattern taken(it: @) { band 20 turns of navy }\n"

static void kinds(void **state)
{
    (void)state;
    static const Named all[] = {
        {TAKEN, "count", "number integer int"},
        {TAKEN, "text", "words"},
        {TAKEN, "truth", "bool boolean flag"},
        {TAKEN, "length", "width mm cm inches distance"},
        {TAKEN, "threads", "list strands yarns"},
        {TAKEN, "ratio", "percent fraction share"},
        {TAKEN, "thread", "string yarn"},
        {TAKEN, "turns", "wraps"},
        {TAKEN, "colour", "color"},
        {TAKEN, "angle", "degrees"},
        {TAKEN, "guide", "ring"},
        {TAKEN, "guides", "rings"},
    };
    check_named(all, sizeof all / sizeof *all);
}

#define LISTED(call) ANYWHERE "let several = [4, 7, 9]\nlet one = " call "\n"

static void functions(void **state)
{
    (void)state;
    static const Named all[] = {
        {LISTED("@(several)"), "count", "length len number"},
        {LISTED("@(several)"), "reverse", "reversed"},
        {LISTED("@(several)"), "first", "head"},
        {LISTED("@(several)"), "rest", "tail"},
        {LISTED("@(7, 9)"), "min", "minimum least"},
        {LISTED("@(7, 9)"), "max", "maximum most"},
        {LISTED("@(7 / 2)"), "floor", "int"},
        {LISTED("@(7 / 2)"), "round", "whole"},
    };
    check_named(all, sizeof all / sizeof *all);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(options), cmocka_unit_test(options_with_their_unit),
        cmocka_unit_test(choices), cmocka_unit_test(numbers_in_words),
        cmocka_unit_test(units),   cmocka_unit_test(other_units),
        cmocka_unit_test(kinds),   cmocka_unit_test(functions),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
