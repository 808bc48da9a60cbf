/* Folding: which actions are told together. Lists are made by hand; what is expected follows from what a builder
 * does without looking up. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "bench/fold.h"
#include "in_memory.h"

/* An action a letter, as below: * tapes a line down, ~ takes it off its tape, h winds by hand, o and b are a
 * pass's legs out and back. */
static Action action_of(char letter)
{
    static const struct {
        char letter;
        ActionKind kind;
    } kinds[] = {
        {'S', ACTION_START},        {'I', ACTION_LAY_IN},    {'L', ACTION_LAY_LOOP},  {'U', ACTION_TAKE_UP},
        {'w', ACTION_WIND},         {'h', ACTION_WIND},      {'T', ACTION_STAND},     {'C', ACTION_LAY_END},
        {'D', ACTION_PULL_THROUGH}, {'t', ACTION_TRIM_TAG},  {'e', ACTION_TRIM_END},  {'p', ACTION_PACK},
        {'m', ACTION_MEASURE},      {'k', ACTION_MARK},      {'O', ACTION_TIE_ON},    {'o', ACTION_LEG},
        {'b', ACTION_LEG},          {'F', ACTION_TIE_OFF},   {'g', ACTION_TAKE_TAPE}, {'s', ACTION_SEAL},
        {'x', ACTION_TAKE_SPACER},  {'+', ACTION_TAPE_DOWN}, {'-', ACTION_UNTAPE},    {'*', ACTION_TAPE_DOWN},
        {'~', ACTION_UNTAPE}};
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++)
        if (kinds[i].letter == letter)
            return (Action){.kind = kinds[i].kind,
                            .by_hand = letter == 'h',
                            .thing = letter == '*' || letter == '~' ? THING_LINE : THING_TAG,
                            .leg.leg = letter == 'b' ? LEG_BACK : LEG_OUT};
    fail_msg("no action: %c", letter);
    return (Action){.kind = ACTION_KIND_COUNT};
}

/* No words at all: what is told together goes by what is done alone. */
static const StepLetters no_words = {0};

/* Steps are parted by spaces, layers by /, and by | where a gap lies before what comes; kinds: the first letter of
 * the kind of each. */
static void folds_as(Arena *arena, const StepLetters *letters, bool bobbin, const char *steps, const char *kinds)
{
    Action actions[64];
    uint32_t firsts[64], count = 0, wanted = 0, layer = 0;
    uint64_t turns = 0;
    double position = 0;
    bool begins = true;
    for (const char *at = steps; *at; at++) {
        if (*at == ' ') {
            begins = true;
            continue;
        }
        if (*at == '/') {
            layer++;
            turns = 0;
            continue;
        }
        if (*at == '|') {
            position++;
            continue;
        }
        if (begins)
            firsts[wanted++] = count;
        begins = false;
        actions[count] = action_of(*at);
        turns += actions[count].kind == ACTION_WIND;
        actions[count].layer_count = turns;
        actions[count].position = position;
        actions[count++].layer = layer;
    }
    uint32_t found = 0;
    Thread thread = {.index = 0};
    Piece piece = {.thread = &thread, .by_hand = bobbin, .bobbin = bobbin};
    const PlannedRod planned = {.pieces = &piece, .piece_count = 1};
    const BenchRod rod = {.rod = &planned, .actions = actions, .action_count = count};
    const Step *folded = fold_actions(arena, letters, &rod, &found);
    static const char kind_letters[STEP_KIND_COUNT + 1] = "OLCHWDTP";
    uint32_t sum = 0;
    for (uint32_t i = 0; i < found; i++) {
        if (i >= wanted || folded[i].first != firsts[i] || kind_letters[folded[i].kind] != kinds[i])
            fail_msg("%s: step %u begins at action %u, kind %u", steps, i + 1, folded[i].first, folded[i].kind);
        assert_int_equal(folded[i].first, sum);
        sum += folded[i].count;
    }
    assert_int_equal(found, wanted);
    assert_int_equal(sum, count);
}

static void folds_with(Arena *arena, const StepLetters *letters, const char *steps, const char *kinds)
{
    folds_as(arena, letters, false, steps, kinds);
}

static void folds(Arena *arena, const char *steps, const char *kinds)
{
    folds_with(arena, &no_words, steps, kinds);
}

static void test_what_is_told_together(void **state)
{
    Arena *arena = &((Memory *)*state)->arena;
    folds(arena, "k Swt wpwpwm wpwt", "OLWW");  /* begin; wind on, packing; measure */
    folds(arena, "Iwpm TUhTUwt TUhTUw", "LHH"); /* laid in, then exchanges of a fade */
    folds(arena, "TUhpm TUw", "HH");            /* after packing by hand the other comes up anew */
    folds(arena, "UhCIw Uh", "HH");             /* an inlay, and its end under the next turns */
    folds(arena, "CUwt we", "CW");              /* over an end, then on until it is held */
    folds(arena, "Lw Depm", "LD");              /* the loop and its turns; the end drawn back */
    folds(arena, "CtUwp we", "CW");             /* trimmed while hands are at it */
    folds(arena, "wpt w", "WW");
    folds(arena, "wm wm", "WW");
    folds(arena, "hTUh TUh", "WH"); /* two pieces led by hand, one after the other */
    folds(arena, "Sw/ Sw", "LL");   /* no step goes from layer to layer */
    folds(arena, "wg w", "WW");
    folds(arena, "s k k x p", "OOOOT");
    folds(arena, "Oob obF Oob ob OoF o", "PPPPPP");    /* a pass a step */
    folds(arena, "I++wpm TU-h+TUw TU-h+-tTUw", "LHH"); /* off its tape, led on, taped; a tag trimmed meanwhile */
    folds(arena, "C+-eUwp -t", "CT");                  /* trimmed before the turns: that is enough for one step */
    folds(arena, "ILCIUwt", "L");
    folds(arena, "wp*m w", "WW"); /* a line is taped after packing, and the width measured */
    folds(arena, "wpm* w", "WW");
    folds(arena, "Lw+pm w", "LW");
    folds(arena, "w*m ~wp* ~Dep", "WWW"); /* off its tape, and on with it */
    folds(arena, "TU~h*TU~w*+ ~w*- ~h*", "HWW");
    folds(arena, "C+t~w C~h", "CC");
    /* Two led in turn, each taped down again: one step of a fade. */
    folds(arena, "~w* TU~w*TU~w* TU~w*-tTU~w* C+U~w*", "WHHC");
    folds(arena, "TU~w*pm TU~w*TU~w*p- TU~w", "HHH");
    folds(arena, "", "");
}

/* At most 160 letters are kept in mind: with each action of so many, that many are told at once. */
static void test_no_more_than_is_kept_in_mind(void **state)
{
    Arena *arena = &((Memory *)*state)->arena;
    StepLetters letters = {.told = {[ACTION_LAY_LOOP] = 40, [ACTION_PACK] = 100, [ACTION_MEASURE] = 60}};
    folds_with(arena, &letters, "LLL L", "LL"); /* each has a digit more: the turns over it */
    letters.told[ACTION_LAY_LOOP] = 39;
    folds_with(arena, &letters, "LLLL LL", "LL");
    letters.told[ACTION_LAY_LOOP] = 38;
    folds_with(arena, &letters, "LLLL LL", "LL");
    folds_with(arena, &letters, "pm pm", "TT");
    letters.told[ACTION_MEASURE] = 61;
    folds_with(arena, &letters, "p m", "TT");
}

/* What has to follow in the same step finds room there, or all of it begins another. */
static void test_what_is_not_parted(void **state)
{
    Arena *arena = &((Memory *)*state)->arena;
    StepLetters letters = {.told = {[ACTION_WIND] = 60, [ACTION_LAY_LOOP] = 98, [ACTION_TRIM_TAG] = 70}};
    folds_with(arena, &letters, "LUw", "L"); /* 98 and 60, with a digit each */
    letters.told[ACTION_LAY_LOOP] = 100;
    folds_with(arena, &letters, "L Uw", "LH"); /* not taken up where no room is left for the turns */
    letters.told[ACTION_LAY_LOOP] = 79;
    letters.told[ACTION_START] = 21;
    letters.turns_of_named = 1;
    folds_with(arena, &letters, "w L Sw", "WLL"); /* nor started, its tag under a finger */
    letters.told[ACTION_START] = 20;
    folds_with(arena, &letters, "w LSw", "WL");
    letters = (StepLetters){
        .told = {[ACTION_WIND] = 60, [ACTION_TRIM_TAG] = 120}, .untape_and = 29, .trim_of_named = 70};
    folds_with(arena, &letters, "w-t", "W"); /* 61, 29 and 70 are 160 */
    letters.untape_and = 30;
    folds_with(arena, &letters, "w -t", "WT"); /* untaped and trimmed in one */
    letters = (StepLetters){.told = {[ACTION_TAKE_UP] = 81, [ACTION_LAY_LOOP] = 78}};
    folds_with(arena, &letters, "ULw", "H"); /* what is taken up is told where no turns tell it */
    letters.told[ACTION_TAKE_UP] = 82;
    folds_with(arena, &letters, "U Lw", "HL");
    letters = (StepLetters){.told = {[ACTION_PACK] = 79, [ACTION_MEASURE] = 79}};
    folds_with(arena, &letters, "Iw*pm", "L"); /* 2, 79 and 79 */
    letters.told[ACTION_PACK] = 80;
    folds_with(arena, &letters, "Iw* pm", "LT"); /* packed where it is measured */
    folds_with(arena, &letters, "De-tp", "D");   /* but not behind an end that was drawn back */
}

/* However often it is packed between, that is told once: "packing every 40". */
static void test_packing_on_the_way(void **state)
{
    Arena *arena = &((Memory *)*state)->arena;
    StepLetters letters = {.told = {[ACTION_WIND] = 79, [ACTION_PACK] = 20}, .packing = 30, .packing_again = 29};
    folds_with(arena, &letters, "wpwpwpwpwpwpwpw", "W"); /* 80, 30 and 29 with a digit; 20 for the last packing */
    letters.packing_again = 30;
    folds_with(arena, &letters, "wpwpw p wpwpw", "WTW");
}

/* Of turns that begin away from others it is told where. */
static void test_where_turns_begin(void **state)
{
    Arena *arena = &((Memory *)*state)->arena;
    StepLetters letters = {.told = {[ACTION_START] = 30, [ACTION_PACK] = 100}, .where = 31};
    folds_with(arena, &letters, "w Swp", "WL");
    folds_with(arena, &letters, "w |Sw p", "WLT");
    folds_with(arena, &letters, "w |w Swp", "WWL");
    folds_with(arena, &letters, "w Swpw/ Sw p w Swp", "WLLTWL");
}

/* What was named last is told with less: by how many letters is shown by what finds room behind it. */
static void test_what_is_named(void **state)
{
    Arena *arena = &((Memory *)*state)->arena;
    StepLetters letters = {
        .told = {[ACTION_PACK] = 100, [ACTION_WIND] = 70, [ACTION_TAPE_DOWN] = 70, [ACTION_TRIM_TAG] = 70},
        .turns_of_named = 50,
        .led_and_taped = 9,
        .untape_line = 9,
        .trim_of_named = 10,
        .by_hand = 9,
        .then = 50};
    letters.taped[THING_TAG] = 9;
    folds_with(arena, &letters, "S+wp", "L"); /* 9, 51 and 100 */
    folds_with(arena, &letters, "~wp", "W");  /* its turns are not of another */
    folds_with(arena, &letters, "Shp", "L");  /* 60 by hand */
    letters.led_and_taped = 90;
    folds_with(arena, &letters, "Sw* p", "LT"); /* led, then taped */
    folds_with(arena, &letters, "Lw p", "LT");  /* of another: 71 */
    folds_with(arena, &letters, "hTU w", "WW"); /* "then": 80 and 121 */
}

/* A bobbin is taped down by its name. */
static void test_bobbins_are_named(void **state)
{
    Arena *arena = &((Memory *)*state)->arena;
    StepLetters letters = {.told = {[ACTION_PACK] = 99, [ACTION_TAPE_DOWN] = 60},
                           .led_and_taped = 60,
                           .led_and_bobbin = 61,
                           .bobbin_taped = 61};
    folds_with(arena, &letters, "w*p", "W"); /* 1, 60 and 99 */
    folds_as(arena, &letters, true, "w* p", "WT");
    folds_with(arena, &letters, "wp*", "W");
    folds_as(arena, &letters, true, "wp *", "WL");
}

#define TEST(function) cmocka_unit_test_setup_teardown(function, start, end)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(test_what_is_told_together), TEST(test_bobbins_are_named),  TEST(test_no_more_than_is_kept_in_mind),
        TEST(test_what_is_not_parted),    TEST(test_packing_on_the_way), TEST(test_where_turns_begin),
        TEST(test_what_is_named)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
