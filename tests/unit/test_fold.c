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

/* Steps are parted by spaces, layers by /, and by | where a gap lies before what comes; kinds: the first letter of
 * the kind of each. */
static void folds(Arena *arena, const char *steps, const char *kinds)
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
    const Step *folded = fold_actions(arena, actions, count, &found);
    static const char letters[STEP_KIND_COUNT + 1] = "OLCHWDTP";
    uint32_t sum = 0;
    for (uint32_t i = 0; i < found; i++) {
        if (i >= wanted || folded[i].first != firsts[i] || letters[folded[i].kind] != kinds[i])
            fail_msg("%s: step %u begins at action %u, kind %u", steps, i + 1, folded[i].first, folded[i].kind);
        assert_int_equal(folded[i].first, sum);
        sum += folded[i].count;
    }
    assert_int_equal(found, wanted);
    assert_int_equal(sum, count);
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
    folds(arena, "ILCI Uwt", "LH");                    /* no more is told at once than is kept in mind */
    /* No step ends with a finger on a tag if it can be helped: there is room for the turns, or it is taped. */
    folds(arena, "w C+L+ Sw-et w", "WCLW");
    folds(arena, "w C+Sw+ Lw-t w", "WCLW");
    folds(arena, "w Lw+pm w", "WLW");
    folds(arena, "w C+ISw + m", "WCLT"); /* 145 letters are told before the tape, and 30 of that */
    folds(arena, "w wp*m w", "WWW");     /* a line is taped before both hands are needed */
    folds(arena, "w C+ISw* m", "WCT");   /* and told with less */
    folds(arena, "w wpm* w", "WWW");
    folds(arena, "w*m ~wp* ~Dep", "WWW"); /* off its tape, and on with it */
    folds(arena, "TU~h*TU~w*+ ~w*- ~h*", "HWW");
    folds(arena, "C+t~w C~h", "CC");
    folds(arena, "w C+Iw* pm", "WCT"); /* packed where it is measured */
    /* Two led in turn, each taped down again: one step of a fade. */
    folds(arena, "~w* TU~w*TU~w* TU~w*-tTU~w* C+U~w*", "WHHC");
    folds(arena, "TU~w*pm TU~w*TU~w* p- TU~w", "HHTH");
    /* Of turns that begin away from others it is told where. */
    folds(arena, "w LS+wt- w", "WLW");
    folds(arena, "w |LS+wt - w", "WLTW");
    folds(arena, "w |w LS+wt- w", "WWLW");
    folds(arena, "w LS+wt- w/ LS+wt - w LS+wt- w", "WLWLTWLW");
    folds(arena, "", "");
}

#define TEST(function) cmocka_unit_test_setup_teardown(function, start, end)

int main(void)
{
    const struct CMUnitTest tests[] = {TEST(test_what_is_told_together)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
