/* Wraps told as an equal one: when two sentences are the same, and what a sheet that begins later goes by. */
#include "made_sheet.h"

#include "base/arena.h"
#include "words/equal_wraps.h"

#include <stdlib.h>

/* mist 4 and 5 there are mist 8 and 9 here, navy 12 is navy 15. */
static const Renaming same_way = {.threads = {{"mist", 4, 4, 8, 2}, {"navy", 4, 12, 15, 1}},
                                  .count = 2,
                                  .guide_there = "ring8",
                                  .guide_here = "ring6"};
static const Renaming other_way = {.count = 0, .guide_there = "", .guide_here = "", .other_way = true};

static const struct {
    const Renaming *renaming;
    const char *there, *here;
    bool alike;
} sentences[] = {
    {&same_way, "", "", true},
    {&same_way, "Trim its tag", "Trim its tag", true},
    {&same_way, "Trim its tag", "Trim its end", false},
    {&same_way, "Trim its tag", "Trim its tag and end", false},
    {&same_way, "Trim its tag and end", "Trim its tag", false},
    {&same_way, "Start mist 4", "Start mist 8", true},
    {&same_way, "Start mist 5", "Start mist 9", true},
    {&same_way, "Start mist 4", "Start mist 9", false},
    {&same_way, "Start mist 4", "Start mist 4", false},
    {&same_way, "Start mist 4", "Start navy 8", false},
    {&same_way, "mist 5, then navy 12", "mist 9, then navy 15", true},
    {&same_way, "my_mist 4", "my_mist 4", true}, /* another thread */
    {&same_way, "my_mist 4", "my_mist 8", false},
    {&same_way, "chemist 4", "chemist 8", false},
    {&same_way, "Wind 9 turns of mist 4", "Wind 12 turns of mist 8", true},
    {&same_way, "Wind 1 turn of mist 4", "Wind 12 turns of mist 8", true},
    {&same_way, "cut; wind 2 turns; wrap 3 turns", "cut; wind 5 turns; wrap 1 turn", true},
    {&same_way, "Wrap 9 turns by hand", "Wrap 8 turns by hand", true},
    {&same_way, "under the next 6 turns", "under the next 7 turns", false},
    {&same_way, "Wind 9 turns, packing after 3", "Wind 9 turns, packing after 4", false},
    {&same_way, "Wind 9 turns, packing after 3", "Wind 9 turns, packing after 34", false},
    {&same_way, "behind 9 turns", "behind 8 turns", false},
    {&same_way, "unwind 9 turns", "unwind 8 turns", false},
    {&same_way, "it should be 5.30 mm", "it should be 12.40 mm", true},
    {&same_way, "it should be 31/64 in (0.486 in); cut", "it should be 1/2 in; cut", true},
    {&same_way, "it should be 5.30 mm; cut", "it should be 5.30 mm; trim", false},
    {&same_way, "from its spool, leaving 68 cm", "from its spool, leaving 69 cm", false},
    {&same_way, "off this foot of ring8", "off this foot of ring6", true},
    {&same_way, "off this foot of ring8", "off this foot of ring8", true},
    {&same_way, "off this foot of ring8", "off this foot of ring7", false},
    {&same_way, "Dress ring8", "Dress ring6", false},
    {&same_way, "toward the butt", "toward the butt", true},
    {&same_way, "toward the butt", "toward the tip", false},
    {&other_way, "toward the butt", "toward the tip", true},
    {&other_way, "toward the tip", "toward the butt", true},
    {&other_way, "toward the butt", "toward the butt", false},
    {&other_way, "to your left", "to your right", true},
    {&other_way, "to your left", "to your tip", false},
    {&other_way, "what is left", "what is left", false},
    {&other_way, "the tips are bright", "the tips are bright", true},
    {&other_way, "leftover", "leftover", true},
    {&other_way, "off this foot of ring8", "off this foot of ring6", false},
};

static void test_sentences(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof sentences / sizeof *sentences; i++)
        if (reads_alike(sentences[i].renaming, sentences[i].there, sentences[i].here) != sentences[i].alike)
            fail_msg("%s | %s", sentences[i].there, sentences[i].here);
}

static void test_notes(void **state)
{
    (void)state;
    Made made = make("edition 1");
    Arena *arena = &made.compilation->arena;
    assert_string_equal(says_more(arena, &same_way, "", ""), "");
    assert_string_equal(says_more(arena, &same_way, "Push them. Lay mist 4.", ""), "");
    assert_string_equal(says_more(arena, &same_way, "Push them. Lay mist 4.", "Lay mist 8."), "");
    assert_string_equal(says_more(arena, &same_way, "Push them. Lay mist 4.", "Lay mist 8. Push them."), "");
    assert_string_equal(says_more(arena, &same_way, "Push them. Lay mist 4.", "Push them. Lay mist 4."),
                        "Lay mist 4.");
    assert_string_equal(says_more(arena, &same_way, "Push them.", "Hold it. Push them. Leave a gap."),
                        "Hold it. Leave a gap.");
    assert_string_equal(says_more(arena, &same_way, "", "Leave a gap."), "Leave a gap.");
    turnlay_free(made.compilation);
}

static void test_what_a_row_has(void **state)
{
    (void)state;
    Made made = make("edition 1");
    Arena *arena = &made.compilation->arena;
    static const char says[] =
        "Untape mist 9, wrap 2 turns by hand; cut mist 9, its end under the next 4 turns; "
        "wind 6 turns of navy 6, packing after 3; measure: it should be 5.30 mm; trim its tag";
    assert_string_equal(turns_told(arena, says), "2 + 6");
    assert_string_equal(width_told(arena, says), "5.30 mm");
    assert_string_equal(turns_told(arena, "Wind 120 turns of navy 6"), "120");
    assert_string_equal(turns_told(arena, "Trim the end of mist 12, behind 4 turns"), "");
    assert_string_equal(width_told(arena, "Trim the end"), "");
    turnlay_free(made.compilation);
}

/* Three wraps alike, each of 4 steps after a mark, and long enough that each is packed after 40 turns, too. */
static const char three[] = "edition 1\n"
                            "thread navy { turns: 67 per cm }\n"
                            "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
                            "bench { measure: 500 turns }\n"
                            "rod \"Three\" on tube {\n"
                            "    at 20 cm { band 62 turns of navy }\n"
                            "    at 30 cm { band 63 turns of navy }\n"
                            "    at 40 cm { band 64 turns of navy }\n"
                            "}\n";

/* The parts of wraps that are told as another, by the number of that one's first step: "4 4". */
static const char *told_as(const Made *made, uint32_t from)
{
    const SheetRod *rod = made->sheet->rods;
    Arena *arena = &made->compilation->arena;
    const char *told = "";
    sheet_begin_at(arena, made->sheet, from);
    for (uint32_t i = 0; i < rod->part_count; i++)
        if (rod->parts[i].as)
            told = text_format(arena, "%s%s%u", told, *told ? " " : "",
                               (unsigned)rod->steps[rod->parts[i].as->first_step].number);
    return told;
}

/* What is told at length has to be on the sheet, from its first step on. */
static void test_sheet_that_begins_later(void **state)
{
    (void)state;
    Made made = make(three);
    const SheetRod *rod = made.sheet->rods;
    uint32_t firsts[3] = {0}, count = 0;
    for (uint32_t i = 0; i < rod->part_count; i++)
        if (rod->parts[i].layer != WHOLE_ROD)
            firsts[count++] = rod->steps[rod->parts[i].first_step].number;
    assert_int_equal(count, 3);
    Arena *arena = &made.compilation->arena;
    const char *first = text_format(arena, "%u %u", (unsigned)firsts[0], (unsigned)firsts[0]);
    const char *second = text_format(arena, "%u", (unsigned)firsts[1]);
    assert_string_equal(told_as(&made, 1), first);
    assert_string_equal(told_as(&made, firsts[0]), first);
    assert_string_equal(told_as(&made, firsts[0] + 1), second);
    assert_string_equal(told_as(&made, firsts[1]), second);
    assert_string_equal(told_as(&made, firsts[1] + 1), "");
    assert_string_equal(told_as(&made, 1), first);
    const char *page = text_from(&made, 1);
    assert_non_null(strstr(page, "The same steps as "));
    turnlay_free(made.compilation);
}

/* The first action of that kind in the last of the wraps. */
static Action *last_of(const Made *made, ActionKind kind)
{
    const SheetRod *rod = made->sheet->rods;
    const SheetPart *last = NULL;
    for (uint32_t i = 0; i < rod->part_count; i++)
        if (rod->parts[i].layer != WHOLE_ROD)
            last = &rod->parts[i];
    Action *action = &rod->bench->actions[last->first];
    while (action->kind != kind)
        action++;
    return action;
}

/* Wraps of which one action differs are not equal: the last one is told at length. */
static void test_what_makes_them_differ(void **state)
{
    (void)state;
    for (int way = 0; way < 8; way++) {
        Made made = make(three);
        assert_int_equal(strlen(told_as(&made, 1)), 3);
        Action *wind = last_of(&made, ACTION_WIND), *loop = last_of(&made, ACTION_LAY_LOOP);
        switch (way) {
        case 0: wind->kind = ACTION_PACK; break;
        case 1: wind->by_hand = true; break;
        case 2: wind->state.fingers++; break;
        case 3: loop->piece = NO_PIECE; break;
        case 4: loop->piece--, loop->piece_count = 2; break;
        case 5: loop->kind = ACTION_UNTAPE, loop->thing = THING_END; break;
        case 6: wind->piece--; break;
        default: wind->turns++; break;
        }
        /* turns alone may differ */
        assert_int_equal(strlen(told_as(&made, 1)), way == 7 ? 3 : 1);
        turnlay_free(made.compilation);
    }
}

/* A tag is not an end. */
static void test_what_is_taped(void **state)
{
    (void)state;
    Made made = make(three);
    for (uint32_t i = 0; i < made.sheet->rods[0].part_count; i++) {
        const SheetPart *part = &made.sheet->rods[0].parts[i];
        Action *action = &made.sheet->rods[0].bench->actions[part->first];
        while (part->layer != WHOLE_ROD && action->kind != ACTION_LAY_LOOP)
            action++;
        if (part->layer != WHOLE_ROD)
            action->kind = ACTION_UNTAPE, action->thing = THING_END;
    }
    assert_int_equal(strlen(told_as(&made, 1)), 3);
    last_of(&made, ACTION_UNTAPE)->thing = THING_TAG;
    assert_int_equal(strlen(told_as(&made, 1)), 1);
    turnlay_free(made.compilation);
}

/* Names of 33 threads would be told above the table: these steps are told again. */
static void test_too_many_threads(void **state)
{
    (void)state;
    for (unsigned threads = MOST_RENAMED; threads <= MOST_RENAMED + 1; threads++) {
        Buffer text;
        Made helper = make("edition 1");
        buffer_start(&text, &helper.compilation->arena);
        buffer_text(&text, "edition 1\nblank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n");
        for (unsigned i = 0; i < threads; i++)
            buffer_format(&text, "thread t%u { turns: 67 per cm }\n", i);
        buffer_text(&text, "rod \"Many\" on tube {\n");
        for (unsigned place = 0; place < 2; place++) {
            buffer_format(&text, "    at %u cm {", 10 + 40 * place);
            for (unsigned i = 0; i < threads; i++)
                buffer_format(&text, " band 20 turns of t%u", i);
            buffer_text(&text, " }\n");
        }
        buffer_text(&text, "}\n");
        Made made = make(buffer_string(&text));
        assert_int_equal(*told_as(&made, 1) != 0, threads <= MOST_RENAMED);
        turnlay_free(made.compilation);
        turnlay_free(helper.compilation);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_sentences),
        cmocka_unit_test(test_notes),
        cmocka_unit_test(test_what_a_row_has),
        cmocka_unit_test(test_sheet_that_begins_later),
        cmocka_unit_test(test_what_makes_them_differ),
        cmocka_unit_test(test_what_is_taped),
        cmocka_unit_test(test_too_many_threads),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
