/* Whoever goes on at a step reads what is on the blank then. It is worked out here once more, from the actions
 * before and after that step alone. */
#include "made_sheet.h"

#include "words/where_work_stands.h"

#include <stdio.h>

enum { MOST_PIECES = 40, LONGEST = 4000 };

typedef struct Seen {
    const char *state; /* NULL: not in work */
    bool taped[HELD_THING_COUNT], begun, ended;
} Seen;

static void follow_piece(Seen *seen, const Action *action)
{
    switch (action->kind) {
    case ACTION_START:
    case ACTION_LAY_IN:
        seen->state = action->kind == ACTION_START ? "running" : "laid in";
        seen->begun = true;
        break;
    case ACTION_TAKE_UP: seen->state = "running"; break;
    case ACTION_STAND: seen->state = "standing"; break;
    case ACTION_LAY_END:
    case ACTION_PULL_THROUGH:
        seen->state = NULL;
        seen->ended = true;
        break;
    case ACTION_TAKE_SPACER: *seen = (Seen){.begun = true, .ended = true}; break;
    case ACTION_TAPE_DOWN: seen->taped[action->thing] = true; break;
    case ACTION_UNTAPE: seen->taped[action->thing] = false; break;
    default: break;
    }
}

static const char *const things[HELD_THING_COUNT] = {
    [THING_TAG] = "the tag of ", [THING_LINE] = "", [THING_END] = "the end of ", [THING_LOOP] = "the loop for "};

static void put(char *out, bool *any, const char *first, const char *words, const char *label)
{
    size_t length = strlen(out);
    snprintf(out + length, LONGEST - length, "%s%s%s", *any ? ", " : first, words, label);
    *any = true;
}

/* "navy 1 (running); taped: the tag of mist 1; still to trim: the tag of mist 1." */
static void expect(char *out, const SheetRod *rod, uint32_t skipped)
{
    Seen seen[MOST_PIECES] = {{0}};
    bool any = false;
    for (uint32_t i = 0; i < skipped; i++)
        for (uint32_t p = 0; p < rod->actions[i].action->piece_count; p++)
            follow_piece(&seen[group_piece(action_pieces(rod->actions[i].action), p)], rod->actions[i].action);
    *out = 0;
    for (uint32_t piece = 0; piece < rod->bench->rod->piece_count; piece++)
        if (seen[piece].state) {
            char words[64];
            snprintf(words, sizeof words, "%s (%s)", rod->labels[piece], seen[piece].state);
            put(out, &any, "", words, "");
        }
    if (!any)
        put(out, &any, "", "no thread in work", "");
    any = false;
    for (uint32_t piece = 0; piece < rod->bench->rod->piece_count; piece++)
        for (int thing = 0; thing < HELD_THING_COUNT; thing++)
            if (seen[piece].taped[thing])
                put(out, &any, "; taped: ", things[thing], rod->labels[piece]);
    any = false;
    for (uint32_t i = skipped; i < rod->action_count; i++) {
        const Action *action = rod->actions[i].action;
        if (action->kind == ACTION_TRIM_TAG && seen[action->piece].begun)
            put(out, &any, "; still to trim: ", things[THING_TAG], rod->labels[action->piece]);
        if (action->kind == ACTION_TRIM_END && seen[action->piece].ended)
            put(out, &any, "; still to trim: ", things[THING_END], rod->labels[action->piece]);
    }
    strcat(out, ".");
}

/* Behind "On the blank: " the items of each list, in whatever order they stand. */
static void same_lists(const char *said, const char *wanted)
{
    char all[LONGEST];
    if (strlen(said) != strlen(wanted))
        fail_msg("%s\nwanted: %s", said, wanted);
    strcpy(all, wanted);
    all[strlen(all) - 1] = 0;
    for (char *list = all, *next; list; list = next) {
        next = strstr(list, "; ");
        if (next) {
            *next = 0;
            next += 2;
        }
        const char *name = strchr(list, ':') ? strchr(list, ':') + 2 : list;
        for (char *item = list + (name - list), *after; item; item = after) {
            after = strstr(item, ", ");
            if (after) {
                *after = 0;
                after += 2;
            }
            assert_says(said, item);
        }
    }
    assert_int_equal(strstr(said, "; taped: ") != NULL, strstr(wanted, "; taped: ") != NULL);
    assert_int_equal(strstr(said, "; still to trim: ") != NULL, strstr(wanted, "; still to trim: ") != NULL);
}

static void test_what_is_on_the_blank(void **state)
{
    (void)state;
    static const char *const benches[] = {"", "brake: no, ", "drive: hand, ", "drive: hand, brake: no, "};
    bool met[HELD_THING_COUNT] = {false}, standing = false, trims = false;
    for (size_t b = 0; b < sizeof benches / sizeof *benches; b++) {
        char text[2048];
        snprintf(text, sizeof text,
                 "edition 1\nbench { %sridge: 9, hand: 1 m }\nthread navy { turns: 20 per cm }\n"
                 "thread mist { turns: 20 per cm }\nthread foam { turns: 20 per cm }\n"
                 "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\nrod \"R\" on tube {\n"
                 "at 20 cm { band 30 turns of navy { inlay 4 turns of mist at: 1/2 }  band 5 turns of foam }\n"
                 "at 40 cm { band 30 turns of [navy, mist]  band 20 turns of [navy, spacer(foam)] }\n"
                 "at 60 cm { band 20 turns of navy  fade to mist steps: 4  band 40 turns of mist } }\n",
                 benches[b]);
        Made made = make(text);
        const SheetRod *rod = &made.sheet->rods[0];
        assert_in_range(rod->bench->rod->piece_count, 8, MOST_PIECES);
        for (uint32_t step = 1; step < rod->step_count; step++) {
            char wanted[LONGEST];
            const char *said = where_work_stands(&made.compilation->arena, made.sheet, rod, step);
            expect(wanted, rod, rod->steps[step].first);
            const char *list = strstr(said, "On the blank: ");
            assert_non_null(list);
            same_lists(list + strlen("On the blank: "), wanted);
            for (int thing = 0; thing < HELD_THING_COUNT; thing++)
                met[thing] |= strstr(wanted, "; taped: ") && strstr(wanted, things[thing]) != NULL;
            standing |= strstr(wanted, "(standing)") != NULL;
            trims |= strstr(wanted, "; still to trim: ") != NULL;
        }
        turnlay_free(made.compilation);
    }
    for (int thing = 0; thing < HELD_THING_COUNT; thing++)
        assert_true(met[thing]);
    assert_true(standing && trims);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_what_is_on_the_blank)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
