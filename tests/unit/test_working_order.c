/* In which order the layers of a rod are wound: its stages, its pieces and windings, and the guides' tape. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "made_sheet.h"

#include "bench/bench.h"

#define HEAD                                                                                                      \
    "edition 1\nthread navy { diameter: 0.1 mm }\nthread mist { diameter: 0.1 mm }\n"                             \
    "bench { clean: no, dress: no, align: no }\n"                                                                 \
    "blank tube { at 0 mm: 12 mm  at 100 cm: 12 mm }\n"                                                           \
    "guide single { foot: 14 mm, before: 3 mm }\n"                                                                \
    "guide pair { foot: [14 mm, 14 mm], gap: 9 mm, before: 3 mm }\n"
#define ROD(places) HEAD "rod \"R\" on tube { " places " }\n"

/* Stages as "place:first layer-end layer"; then where turns are made, "place.layer", and where a guide is taped.
 */
static const struct {
    const char *text, *stages, *turns;
} cases[] = {
    {ROD("at 20 cm { band 20 turns of navy }  at 10 cm { under { band 20 turns of navy } over { band 9 turns of mist } }"),
     "0:0-1 1:0-2", "0.0 1.0 1.1"},
    {ROD("at 20 cm guide: single { under { band 20 turns of navy } over { band 90 turns of mist } }"), "0:0-2",
     "0.0 tape 0.1"},
    {ROD("at 20 cm guide: pair { band 90 turns of navy }"), "0:0-1 1:0-1", "tape 0.0 1.0"},
    {ROD("at 20 cm guide: pair { under { band 20 turns of navy } over { band 90 turns of mist } }"),
     "0:0-1 1:0-1 0:1-2 1:1-2", "0.0 1.0 tape 0.1 1.1"},
    {ROD("at 20 cm guide: pair { under { band 20 turns of navy } under { band 20 turns of mist } "
         "over { band 90 turns of mist } over { band 90 turns of navy } }"),
     "0:0-2 1:0-2 0:2-4 1:2-4", "0.0 0.1 1.0 1.1 tape 0.2 0.3 1.2 1.3"},
    /* What lies below a foot is wound first, wherever it is written. */
    {ROD("at 20 cm guide: pair { over { band 90 turns of navy } under { band 20 turns of mist } }"),
     "0:0-1 1:0-1 0:1-2 1:1-2", "0.0 1.0 tape 0.1 1.1"},
    {ROD("at 20 cm { over { band 90 turns of navy } under { band 20 turns of mist } }"), "0:0-2", "0.0 0.1"},
    {ROD("at 20 cm guide: pair { under { band 20 turns of navy } }"), "0:0-1 1:0-1", "0.0 1.0"},
    /* Two guides, and a place between them: nothing of one is wound in the midst of another. */
    {ROD("at 20 cm guide: pair { under { band 20 turns of navy } over { band 90 turns of mist } } "
         "at 30 cm { band 9 turns of navy } "
         "at 40 cm guide: pair { under { band 20 turns of navy } over { band 90 turns of mist } }"),
     "0:0-1 1:0-1 0:1-2 1:1-2 2:0-1 3:0-1 4:0-1 3:1-2 4:1-2", "0.0 1.0 tape 0.1 1.1 2.0 3.0 4.0 tape 3.1 4.1"},
    {ROD("at 20 cm { if no { over { band 9 turns of navy } } }  at 30 cm guide: pair { if no { under { band 9 turns of "
         "navy } } }"),
     "0:0-0 1:0-0 2:0-0", ""},
};

static const char *stages(Arena *arena, const PlannedRod *rod)
{
    Buffer out;
    buffer_start(&out, arena);
    for (uint32_t s = 0; s < rod->stage_count; s++)
        buffer_format(&out, "%s%u:%u-%u", s ? " " : "", (unsigned)rod->stages[s].place,
                      (unsigned)rod->stages[s].first_layer, (unsigned)rod->stages[s].end_layer);
    buffer_put(&out, "", 1);
    return out.bytes;
}

/* Each layer with turns once, where its first turn is made, and the guides' tape. */
static const char *turns(Arena *arena, const BenchRod *rod)
{
    Buffer out;
    buffer_start(&out, arena);
    for (uint32_t i = 0, place = WHOLE_ROD, layer = 0; i < rod->action_count; i++) {
        const Action *action = &rod->actions[i];
        const char *apart = out.length ? " " : "";
        if (action->kind == ACTION_TAPE_GUIDE)
            buffer_format(&out, "%stape", apart);
        if (action->kind != ACTION_WIND || (action->place == place && action->layer == layer))
            continue;
        place = action->place;
        layer = action->layer;
        buffer_format(&out, "%s%u.%u", apart, (unsigned)place, (unsigned)layer);
    }
    buffer_put(&out, "", 1);
    return out.bytes;
}

/* Pieces and windings stand as they are worked: no layer comes back, and both have the same order. */
static void check_arrays(const PlannedRod *rod)
{
    uint32_t piece = 0;
    for (uint32_t w = 0; w < rod->winding_count; w++) {
        const Winding *winding = &rod->windings[w];
        while (piece < rod->piece_count
               && (rod->pieces[piece].place != winding->place || rod->pieces[piece].layer != winding->layer))
            piece++;
        assert_true(piece < rod->piece_count);
    }
}

static void test_order(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Made made = make(cases[i].text);
        Arena *arena = &made.compilation->arena;
        const BenchRod *rod = &made.sheet->bench->rods[0];
        assert_string_equal(stages(arena, rod->rod), cases[i].stages);
        assert_string_equal(turns(arena, rod), cases[i].turns);
        check_arrays(rod->rod);
        turnlay_free(made.compilation);
    }
}

/* On a foot what lies below it is planned on the blank, and what lies over it on that, however they are written.
 */
static void test_what_lies_on_what(void **state)
{
    (void)state;
    static const char *const texts[] = {
        ROD("at 20 cm guide: pair { over { band 90 turns of navy } under { band 20 turns of mist } }"),
        ROD("at 20 cm guide: pair { under { band 20 turns of mist } over { band 90 turns of navy } }"),
    };
    for (int i = 0; i < 2; i++) {
        Made made = make(texts[i]);
        for (uint32_t p = 0; p < 2; p++) {
            const PlannedPlace *place = &made.sheet->bench->rods[0].rod->places[p];
            assert_false(place->layers[0].layer->over);
            assert_true(place->layers[0].runs[0].start_diameter == 12);
            assert_true(place->layers[1].runs[0].start_diameter > 12.19);
        }
        turnlay_free(made.compilation);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_order), cmocka_unit_test(test_what_lies_on_what)};
    return cmocka_run_group_tests_name("working order", tests, NULL, NULL);
}
