/* Folding, state by state: after what was told so far, which actions are told with it, and which begin a step of
 * their own. What is expected follows from what a builder does without looking up. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "bench/fold.h"
#include "in_memory.h"

/* A letter an action: S, I, L lay a tag or a loop, C cuts, T lets a thread stand, U takes one up, + tapes, - takes
 * tape off a tag, ~ off a line, w winds, h by hand, D draws an end back, t trims, p packs, m measures, k marks; of
 * a crosswrap O tapes on, o and b are legs out and back, F tapes off. */
static const struct {
    char letter;
    ActionKind kind;
} kinds[] = {
    {'S', ACTION_START},         {'I', ACTION_LAY_IN},   {'L', ACTION_LAY_LOOP},  {'C', ACTION_LAY_END},
    {'T', ACTION_STAND},         {'U', ACTION_TAKE_UP},  {'+', ACTION_TAPE_DOWN}, {'-', ACTION_UNTAPE},
    {'~', ACTION_UNTAPE},        {'w', ACTION_WIND},     {'h', ACTION_WIND},      {'D', ACTION_PULL_THROUGH},
    {'t', ACTION_TRIM_TAG},      {'e', ACTION_TRIM_END}, {'g', ACTION_TAKE_TAPE}, {'p', ACTION_PACK},
    {'m', ACTION_MEASURE},       {'k', ACTION_MARK},     {'s', ACTION_SEAL},      {'O', ACTION_TIE_ON},
    {'o', ACTION_LEG},           {'b', ACTION_LEG},      {'F', ACTION_TIE_OFF},   {'x', ACTION_TAKE_SPACER},
    {'c', ACTION_CUT_FROM_SPOOL}};

static Action action_of(char letter)
{
    size_t i = 0;
    while (kinds[i].letter != letter)
        i++;
    return (Action){.kind = kinds[i].kind,
                    .by_hand = letter == 'h',
                    .thing = letter == '~' ? THING_LINE : THING_TAG,
                    .leg.leg = letter == 'b' ? LEG_BACK : LEG_OUT};
}

static uint32_t steps_of(Arena *arena, const char *letters)
{
    static const StepLetters no_words = {0};
    Action actions[32];
    uint32_t count = 0, found = 0;
    uint64_t turns = 0;
    for (; letters[count]; count++) {
        actions[count] = action_of(letters[count]);
        turns += actions[count].kind == ACTION_WIND;
        actions[count].layer_count = turns;
    }
    Thread thread = {.index = 0};
    Piece piece = {.thread = &thread};
    const PlannedRod planned = {.pieces = &piece, .piece_count = 1};
    const BenchRod rod = {.rod = &planned, .actions = actions, .action_count = count};
    fold_actions(arena, &no_words, &rod, &found);
    return found;
}

typedef struct StateCase {
    const char *told, *goes_on; /* so far; what is told with it */
} StateCase;

static const StateCase cases[] = {
    /* Whatever the next turns need is made ready; then these turns. An end may be drawn back in between. */
    {"I", "SILCcTU+-~whDteg"},
    {"S", "SILCcTU+-~whDteg"},
    {"C", "SILCcTU+-~whDteg"},
    {"IT", "SILCcTU+-~whDteg"},
    {"U", "SILCcTU+-~whDteg"},
    {"IU", "SILCcTU+-~whDteg"},
    {"I+", "SILCcTU+-~whDteg"},
    /* Begun by one thread that stands for another; no end is drawn back then. */
    {"T", "SILCcTU+-~whteg"},
    {"TU", "SILCcTU+-~whteg"},
    {"T+-~", "SILCcTU+-~whteg"},
    {"TI", "SILCcTU+-~whDteg"},
    /* Something is trimmed before the turns: nothing more is cut, and with the turns it is enough. */
    {"It", "SILTU+-~whteg"},
    {"Tt", "SILTU+-~whteg"},
    {"It+-~TUSe", "SILTU+-~whteg"},
    {"Itw", "pm"},
    {"Ith", "pm"},
    {"Itwpm", "pm"},
    /* Turns by hand: the other thread goes on, an end is cut, or they are looked at. */
    {"h", "+-tegTCcpm"},
    {"Ih", "+-tegTCcpm"},
    {"Uh", "+-tegTCcpm"},
    {"Uh+-t", "+-tegTCcpm"},
    {"UhT", "+-~Uwh"},
    {"UhT+-~U", "+-~Uwh"},
    {"UhC", "SILCcTU+-~whDteg"},
    /* Led while the drive turns the blank, and taped down again. */
    {"TUw", "+-tegpm"},
    {"TUw+", "+-tegTpm"},
    {"TUw+-t", "+-tegTpm"},
    {"TUw++", "+-tegpm"},
    {"TUw+T", "+-~Uwh"},
    /* Wound, packed, looked after. */
    {"w", "+-tegpm"},
    {"Iw", "+-tegpm"},
    {"UhTw", "+-tegpm"},
    {"UhTh", "+-tegpm"},
    {"wp", "+-tegmw"},
    {"wpw", "+-tegpm"},
    {"TUwp", "+-tegmw"},
    {"wm", "+-tegpm"},
    {"w+", "+-tegpm"},
    {"w-", "+-tegpm"},
    {"wt", "+-tegpm"},
    {"wpm", "+-tegpm"},
    {"hp", "+-tegpm"},
    {"hm", "+-tegpm"},
    {"wm+-tp", "+-tegpm"},
    {"p", "+-tegpm"},
    {"m", "+-tegpm"},
    {"t", "+-tegpm"},
    {"-", "+-tegpm"},
    /* An end is drawn back, trimmed, and the turns are closed up. */
    {"D", "-tegpm"},
    {"D-", "-tegpm"},
    {"Dt", "-tegpm"},
    {"ID", "-tegpm"},
    {"Dp", "+-tegpm"},
    {"Dm", "+-tegpm"},
    /* A pass: taped on, out, back, taped off. */
    {"O", "o"},
    {"Oo", "bF"},
    {"o", "bF"},
    {"Oob", "F"},
    {"b", "F"},
    {"OobF", ""},
    {"OoF", ""},
    /* What is done by itself. */
    {"k", ""},
    {"s", ""},
    {"x", ""},
};

static void test_what_goes_on(void **state)
{
    Arena *arena = &((Memory *)*state)->arena;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        if (steps_of(arena, cases[i].told) != 1)
            fail_msg("%s is not one step", cases[i].told);
        for (size_t k = 0; k < sizeof kinds / sizeof *kinds; k++) {
            char letters[32];
            size_t length = strlen(cases[i].told);
            memcpy(letters, cases[i].told, length);
            letters[length] = kinds[k].letter;
            letters[length + 1] = 0;
            uint32_t wanted = strchr(cases[i].goes_on, kinds[k].letter) ? 1 : 2;
            if (steps_of(arena, letters) != wanted)
                fail_msg("%s then %c: %u steps expected", cases[i].told, kinds[k].letter, wanted);
        }
    }
}

#define TEST(function) cmocka_unit_test_setup_teardown(function, start, end)

int main(void)
{
    const struct CMUnitTest tests[] = {TEST(test_what_goes_on)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
