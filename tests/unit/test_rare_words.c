/* What the sheet says of things that few rods bring about. Turns are half a millimetre. */
#include "made_sheet.h"

#include "words/card.h"
#include "words/crosswrap_words.h"
#include "words/marking_strip.h"

#include <math.h>
#include <stdio.h>

static Made made_for(const char *bench, const char *rod)
{
    char text[2048];
    snprintf(
        text, sizeof text,
        "edition 1\nbench { units: mm, %s }\nthread navy { turns: 20 per cm }\nthread mist { turns: 20 per cm }\n"
        "thread foam { turns: 20 per cm }\nblank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\nrod \"R\" on tube { %s }\n",
        bench, rod);
    return make(text);
}

static bool step_says(const SheetRod *rod, const char *words)
{
    for (uint32_t i = 0; i < rod->step_count; i++)
        if (strstr(rod->steps[i].says, words) || strstr(rod->steps[i].note, words))
            return true;
    return false;
}

typedef struct Rare {
    const char *bench, *rod, *words; /* of some step, or beside it */
} Rare;

static void test_rare_steps(void **state)
{
    (void)state;
    static const Rare cases[] = {
        /* A fade whose steps go one way only has turns of one thread. */
        {"",
         "at 30 cm { band 20 turns of navy  fade to mist runs: [in 1 out 0, in 2 out 0]  band 20 turns of mist }",
         "Fade from navy to mist 1: in 1; in 2."},
        {"",
         "at 30 cm { band 20 turns of navy  fade to mist runs: [in 0 out 1, in 0 out 2]  band 20 turns of mist }",
         "Fade from navy 1 to mist: out 1, out 2."},
        /* Bands of one thread are packed where each ends, but for those that end soon after another packing. */
        {"",
         "at 30 cm { band 12 turns of navy  band 13 turns of navy  band 14 turns of navy  band 30 turns of navy }",
         "packing toward the butt 3 times on the way"},
        {"",
         "at 30 cm { band 13 turns of navy  band 12 turns of navy  band 12 turns of navy  band 30 turns of navy }",
         "packing toward the butt after 7, then every 12"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Made made = made_for(cases[i].bench, cases[i].rod);
        if (!step_says(&made.sheet->rods[0], cases[i].words)) {
            for (uint32_t s = 0; s < made.sheet->rods[0].step_count; s++)
                print_message("%s | %s\n", made.sheet->rods[0].steps[s].says, made.sheet->rods[0].steps[s].note);
            fail_msg("%s: not said: %s", cases[i].rod, cases[i].words);
        }
        turnlay_free(made.compilation);
    }
}

/* A layer's end that moves by less than is printed stays, and so does a band's; the gap that it begins with is
 * told behind. One wrap is packed as another here: navy teaches nothing of mist. */
static void test_moved_by_less_than_is_printed(void **state)
{
    (void)state;
    static const struct {
        const char *units, *measured, *told;
        unsigned turns;
    } cases[] = {
        {"mm, callipers: 0.01 mm", "20.004 mm",
         "Planned again after measuring. The layer's end stays. Leave a gap of 3.00 mm first.", 40},
        {"mm, callipers: 0.01 mm", "20.006 mm",
         "line 6, navy: 20.01 mm wide instead of 20.00 mm; the layer's end lies further on by 0.01 mm. Leave a gap of ",
         40},
        {"mm, callipers: 0.01 mm", "19.994 mm", "the layer's end lies nearer by 0.01 mm. Leave a gap of ", 40},
        {"mm", "20.04 mm", "The layer's end stays. Leave a gap of 3.0 mm first.", 40},
        /* Of 20.5 mm and of this 20.6 mm are read. */
        {"mm, callipers: 0.2 mm", "20.68 mm",
         "Planned again after measuring. The layer's end lies further on by 0.2 mm. Leave a gap of ", 41},
        {"mm", "20.06 mm", "the layer's end lies further on by 0.1 mm. Leave a gap of ", 40},
        {"in", "20.06 mm", "The layer's end stays. Leave a gap of ", 40},
        {"in", "20.07 mm", "the layer's end lies further on by 0.005 in. Leave a gap of ", 40},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char text[512];
        snprintf(
            text, sizeof text,
            "edition 1\nbench { units: %s, varies: 0 %% }\nthread navy { turns: 20 per cm }\nthread mist { turns: 20 per cm }\n"
            "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\nrod \"R\" on tube { at 30 cm { gap 3 mm  "
            "band %u turns of navy measured: %s  band 40 turns of mist } }\n",
            cases[i].units, cases[i].turns, cases[i].measured);
        Made made = make(text);
        assert_says(step_saying(&made, "Start navy 1 over its own tag")->detail, cases[i].told);
        turnlay_free(made.compilation);
    }
}

/* A rod on which nothing is done still stands on the sheet, with nothing to cut and no step. */
static void test_a_rod_without_work(void **state)
{
    (void)state;
    Made made = made_for("coats: 0, singe: no, wipe: no", "");
    const SheetRod *rod = &made.sheet->rods[0];
    assert_int_equal(rod->action_count, 0);
    assert_int_equal(rod->section_count, 1);
    assert_string_equal(rod->sections[0].title, "R");
    assert_int_equal(rod->sections[0].part_count, 0);
    assert_int_equal(rod->sections[0].first_part, 0);
    assert_int_equal(rod->sections[0].first_step, 0);
    assert_int_equal(rod->sections[0].first_action, 0);
    assert_int_equal(rod->sections[0].cut_count, 0);
    turnlay_free(made.compilation);
}

/* What lies over a tag is named where it is one thread, in however many bands; else it is turns alone. */
static void test_what_lies_over_a_tag(void **state)
{
    (void)state;
    static const struct {
        const char *before, *how;
    } cases[] = {
        {"band 20 turns of navy", "mist by hand, laid in under 6 of navy;"},
        {"band 20 turns of navy  band 3 turns of navy", "mist by hand, laid in under 6 of navy;"},
        {"band 20 turns of foam  band 3 turns of navy", "mist by hand, laid in under the 6 turns before;"},
        {"band 20 turns of [navy, foam]  band 3 turns of navy", "mist by hand, laid in under the 6 turns before;"},
        {"band 20 turns of foam  band 6 turns of navy", "mist by hand, laid in under 6 of navy;"},
        {"band 20 turns of foam  band 5 turns of navy", "mist by hand, laid in under the 6 turns before;"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char rod[512];
        snprintf(rod, sizeof rod, "at 30 cm { %s  fade to mist steps: 2  band 30 turns of mist }",
                 cases[i].before);
        Made made = made_for("hand: 9 m, ridge: 9", rod);
        const CardLayer *layer = &made.sheet->rods[0].cards[0].layers[0];
        const CardLine *fade = &layer->lines[layer->line_count - 2];
        assert_says(fade->how, cases[i].how);
        turnlay_free(made.compilation);
    }
}

static MarkingStrip strip_of(const Made *made)
{
    const SheetRod *rod = &made->sheet->rods[0];
    for (uint32_t i = 0; i < rod->part_count; i++)
        if (rod->parts[i].layer != WHOLE_ROD)
            return marking_strip(&made->compilation->arena, rod, i, &made->compilation->plan->job->bench);
    fail_msg("nothing is wound");
    return (MarkingStrip){.side = 0};
}

/* On a marking strip what lies within five thousandths of a millimetre of another mark is that mark. */
static void test_marks_that_are_one(void **state)
{
    (void)state;
    static const double apart[] = {0, 0.0045, -0.0045, 0.0055, -0.0055};
    for (size_t i = 0; i < sizeof apart / sizeof *apart; i++) {
        bool same = fabs(apart[i]) < 0.005;
        char rod[256];
        snprintf(rod, sizeof rod, "part initials at %.4f mm  at 300 mm { band 20 turns of navy }", 300 + apart[i]);
        Made made = made_for("", rod);
        MarkingStrip strip = strip_of(&made);
        uint32_t parts = 0;
        for (uint32_t m = 0; m < strip.marks.count; m++) {
            const StripMark *mark = &strip.marks.items[m];
            parts += mark->kind == MARK_PART;
            if (mark->kind == MARK_DATUM)
                assert_string_equal(mark->words, same ? "mark; initials" : "mark");
        }
        assert_int_equal(parts, !same);
        turnlay_free(made.compilation);
        if (apart[i] < 0)
            continue;
        snprintf(rod, sizeof rod, "at 300 mm { over offset: %.4f mm { band 20 turns of navy } }", apart[i]);
        made = made_for("", rod);
        strip = strip_of(&made);
        assert_int_equal(strip.marks.count, same ? 2 : 3); /* the mark, where it starts, where it ends */
        turnlay_free(made.compilation);
    }
}

/* Of up to six diameters of a part all are told, of more all but those before the last of them. */
static void test_diameters_told(void **state)
{
    (void)state;
    static const char *const told[] = {"diameters 20.00 mm, 21.00 mm, 22.00 mm, 23.00 mm, 24.00 mm, 25.00 mm",
                                       "diameters 20.00 mm, 21.00 mm, 22.00 mm, 23.00 mm, 24.00 mm, ... 26.00 mm"};
    for (int more = 0; more < 2; more++) {
        char rod[256];
        snprintf(rod, sizeof rod,
                 "part grip at 0 mm length: 100 mm { diameter: [20 mm, 21 mm, 22 mm, 23 mm, 24 mm, 25 mm%s] } "
                 "at 300 mm { band 20 turns of navy }",
                 more ? ", 26 mm" : "");
        Made made = made_for("", rod);
        assert_says(made.sheet->rods[0].notes[0].words, told[more]);
        turnlay_free(made.compilation);
    }
}

static uint32_t times(const char *text, const char *words)
{
    uint32_t count = 0;
    for (const char *at = text; (at = strstr(at, words)); at++)
        count++;
    return count;
}

/* Up to four crossing lines are told each with its angle, and up to 24 crossings each with its place. */
static void test_lines_and_crossings_told(void **state)
{
    (void)state;
    uint32_t most = 0, least = UINT32_MAX;
    for (unsigned starts = 1; starts <= 6; starts++)
        for (unsigned crossings = 8; crossings <= 30; crossings += starts == 1 ? 1 : 11) {
            char rod[256];
            snprintf(
                rod, sizeof rod,
                "at 20 cm length: 400 mm { chevron crossings: %u starts: %u ends: 12 turns of navy { strand 1 of "
                "mist } }",
                crossings, starts);
            Made made = made_for("hand: 9 m", rod);
            const PlannedPlace *place = &made.compilation->plan->rods[0].places[0];
            const PlannedCrosswrap *planned = place->layers[0].crosswrap;
            Buffer out;
            buffer_start(&out, &made.compilation->arena);
            put_family(&out, SYSTEM_MM, NULL, place, planned, 1);
            buffer_put(&out, "", 1);
            assert_int_equal(times(out.bytes, " deg ("), starts <= 4 ? starts : 1);
            assert_int_equal(times(out.bytes, " deg apart, one of them at "), starts > 4);
            uint32_t marks = crosswrap_mark_count(planned, 0), all = marks * crosswrap_families(planned);
            assert_int_equal(times(out.bytes, " mm"), all <= 24 ? marks : 3);
            assert_int_equal(times(out.bytes, ", then every "), all > 24);
            most = all <= 24 && all > most ? all : most;
            least = all > 24 && all < least ? all : least;
            turnlay_free(made.compilation);
        }
    assert_int_equal(most, 24);
    assert_int_equal(least, 26); /* a chevron has two families */
}

/* A place ends where the longest of its layers does. */
static void test_where_a_place_ends(void **state)
{
    (void)state;
    static const struct {
        const char *layers, *ends;
    } cases[] = {
        {"under { band 20 turns of mist } over { band 30 turns of navy }", ", and ends 15 mm on: mark that too"},
        {"under { band 30 turns of mist } over { band 20 turns of navy }", ", and ends 15 mm on: mark that too"},
        {"under { band 20 turns of mist } over { band 20 turns of navy } over offset: 1 mm { band 20 turns of navy }",
         ", and ends 11 mm on: mark that too"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char rod[256];
        snprintf(rod, sizeof rod, "at 30 cm { %s }", cases[i].layers);
        Made made = made_for("rule: 0.1 mm", rod);
        assert_says(step_saying(&made, "Put the mark 300 mm from the butt")->detail, cases[i].ends);
        turnlay_free(made.compilation);
    }
}

/* A crosswrap's passes hang on tape until its end bands hold them: between them one may stop as long as none runs,
 * and it is not finished. */
static void test_stopping_between_passes(void **state)
{
    (void)state;
    Made made =
        made_for("hand: 9 m", "at 20 cm length: 60 mm { chevron crossings: 3 ends: 12 turns of navy { strand 1 of "
                              "mist } }");
    const SheetRod *rod = &made.sheet->rods[0];
    uint32_t taped_off = 0;
    for (uint32_t i = 0; i < rod->action_count; i++)
        if (rod->actions[i].action->kind == ACTION_TIE_OFF) {
            taped_off++;
            assert_int_equal(rod->actions[i].action->state.to_stop, STOP_HELD);
        }
    assert_int_equal(taped_off, 1);
    turnlay_free(made.compilation);
}

/* Where strands are laid: of a crosswrap its first is along the marks, of a spiral, which has none, it is the
 * first. */
static void test_where_strands_are_laid(void **state)
{
    (void)state;
    static const struct {
        StrandGroup group;
        CrosswrapKind kind;
        const char *words;
    } cases[] = {
        {{.side = LAID_FIRST}, CROSSWRAP_CHEVRON, "along the marks"},
        {{.side = LAID_FIRST}, CROSSWRAP_DIAMOND, "along the marks"},
        {{.side = LAID_FIRST}, CROSSWRAP_SPIRAL, "first"},
        {{.side = LAID_UP}, CROSSWRAP_SPIRAL, "on the tip side"},
        {{.side = LAID_DOWN, .begins_down = true}, CROSSWRAP_CHEVRON, "on the butt side"},
        {{.side = LAID_BY_TURNS}, CROSSWRAP_DIAMOND, "alternately tip, butt side"},
        {{.side = LAID_BY_TURNS, .begins_down = true}, CROSSWRAP_DIAMOND, "alternately butt, tip side"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        assert_string_equal(laid_words(&cases[i].group, cases[i].kind), cases[i].words);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_rare_steps),
        cmocka_unit_test(test_moved_by_less_than_is_printed),
        cmocka_unit_test(test_a_rod_without_work),
        cmocka_unit_test(test_what_lies_over_a_tag),
        cmocka_unit_test(test_marks_that_are_one),
        cmocka_unit_test(test_diameters_told),
        cmocka_unit_test(test_lines_and_crossings_told),
        cmocka_unit_test(test_where_a_place_ends),
        cmocka_unit_test(test_where_strands_are_laid),
        cmocka_unit_test(test_stopping_between_passes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
