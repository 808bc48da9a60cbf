/* Places that stand elsewhere than on the rod's line: what goes round with them, what stays, and what is said of
 * it. The numbers are those of circles drawn by hand, or of the same rod with all on its line. */
#include "made_sheet.h"
#include "near.h"

#include "draw/template/template.h"
#include "trade/trade.h"

#include <stdio.h>
#include <stdlib.h>

#define HEAD                                                                                                      \
    "edition 1\n"                                                                                                 \
    "thread navy { turns: 67 per cm, colour: #22346b }\n"                                                         \
    "thread mist { turns: 60 per cm, colour: #9db8d6 }\n"                                                         \
    "thread dusk { turns: 50 per cm, colours: [#4c6a9c, #9db8d6, #dfe9ef], period: 9 cm }\n"                      \
    "bench { units: mm }\n"                                                                                       \
    "guide ring16 { foot: [12 mm, 12 mm], gap: 6 mm, width: 2 mm, height: 1 mm, ramp: 4 mm, before: 3 mm }\n"     \
    "guide ring6 { foot: 12 mm, gap: 3 mm, width: 2 mm, height: 1 mm, ramp: 4 mm, before: 3 mm }\n"               \
    "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"

static Made rod(const char *places)
{
    static char text[4096];
    snprintf(text, sizeof text, HEAD "rod \"R\" on tube {\n%s\n}\n", places);
    return make(text);
}

static const PlannedPlace *place_of(const Made *made, uint32_t place)
{
    return &made->compilation->plan->rods[0].places[place];
}

static const char *label_of(const Made *made, uint32_t place)
{
    const Plan *plan = made->compilation->plan;
    return place_label(&made->compilation->arena, plan->job, plan->rods[0].rod, place_of(made, place));
}

/* --- the angle --- */

static void degrees_are_taken_back_to_one_turn(void **state)
{
    (void)state;
    assert_within(clock_degrees(-0.25), 270, 0);
    assert_within(clock_degrees(3), 0, 0);
    assert_within(clock_degrees(1 - 1e-10), 0, 0);
    assert_within(clock_degrees(1 - 1e-8), 360 - 360e-8, 1e-9);
    assert_within(clock_degrees(7.5), 180, 0);
    static const struct {
        const char *written;
        double degrees;
    } cases[] = {{"0 deg", 0},    {"60 deg", 60},  {"-60 deg", 300}, {"360 deg", 0},    {"450 deg", 90},
                 {"-720 deg", 0}, {"-1 deg", 359}, {"180 deg", 180}, {"12.5 deg", 12.5}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char places[128];
        snprintf(places, sizeof places, "at 40 cm guide: ring6 angle: %s { band fill of navy }", cases[i].written);
        Made made = rod(places);
        assert_within(clock_degrees(place_of(&made, 0)->place->angle), cases[i].degrees, 1e-9);
        assert_true(place_of(&made, 0)->place->angle >= 0 && place_of(&made, 0)->place->angle < 1);
        turnlay_free(made.compilation);
    }
}

/* The sum of many chords. */
static void a_way_round_is_an_arc(void **state)
{
    (void)state;
    uint64_t seed = 5;
    for (int i = 0; i < 40; i++) {
        double diameter = between(&seed, 1, 30), degrees_round = between(&seed, 0, 360), sum = 0;
        enum { CHORDS = 20000 };
        for (int k = 0; k < CHORDS; k++) {
            double a = degrees_round / 180 * acos(-1) * k / CHORDS,
                   b = degrees_round / 180 * acos(-1) * (k + 1) / CHORDS;
            sum += hypot(diameter / 2 * (cos(b) - cos(a)), diameter / 2 * (sin(b) - sin(a)));
        }
        assert_near(arc_length(diameter, degrees_round), sum, 1e-7);
    }
}

static void labels_say_the_angle_where_there_is_one(void **state)
{
    (void)state;
    Made made = rod("at 20 cm angle: 0 deg { band 20 turns of navy }\n"
                    "at 30 cm angle: -97.25 deg { band 20 turns of navy }\n"
                    "at 40 cm guide: ring16 angle: 60 deg { band fill of navy }\n"
                    "at 50 cm from: tip guide: ring6 angle: 180 deg { band fill of navy }\n");
    assert_string_equal(label_of(&made, 0), "200 mm from the butt, toward the tip");
    assert_string_equal(label_of(&made, 1), "300 mm from the butt at 262.75 deg, toward the tip");
    assert_string_equal(label_of(&made, 2), "ring16 at 400 mm from the butt at 60 deg, butt-side foot");
    assert_string_equal(label_of(&made, 4), "ring6 at 500 mm from the tip at 180 deg");
    turnlay_free(made.compilation);
}

/* --- what goes round --- */

#define CROSSED(angle)                                                                                            \
    "at 10 cm angle: " angle                                                                                      \
    " length: 80 mm { chevron crossings: 3 starts: 2 facing: 2 ends: 12 turns of navy {\n"                        \
    "    strand 2 of mist  strand 1 of navy } }\n"                                                                \
    "at 30 cm angle: " angle " length: 70 mm { spiral turns: 3 turns starts: 3 ends: 12 turns of navy {\n"        \
    "    strand 2 of mist  strand 1 of navy } }\n"

static const PlannedCrosswrap *crosswrap_at(const Made *made, uint32_t place)
{
    return place_of(made, place)->layers[0].crosswrap;
}

static void same_lengths(const PlannedCrosswrap *one, const PlannedCrosswrap *other)
{
    assert_int_equal(one->pass_count, other->pass_count);
    for (uint32_t p = 0; p < one->pass_count; p++) {
        for (uint32_t leg = 0; leg < LEG_COUNT; leg++)
            assert_within(one->passes[p].length[leg], other->passes[p].length[leg], 1e-9);
        assert_within(one->passes[p].dwell, other->passes[p].dwell, 1e-6);
        assert_within(one->passes[p].dwell_before, other->passes[p].dwell_before, 1e-6);
    }
}

/* Every strand is as much farther round everywhere, and as long. */
static void crosswraps_go_round_with_their_place(void **state)
{
    (void)state;
    Made made = rod(CROSSED("0 deg")), turned = rod(CROSSED("110 deg"));
    for (uint32_t p = 0; p < 2; p++) {
        const PlannedCrosswrap *one = crosswrap_at(&made, p), *other = crosswrap_at(&turned, p);
        same_lengths(one, other);
        for (uint32_t start = 0; start < one->starts; start++)
            for (uint32_t leg = 0; leg < leg_count(one); leg++)
                for (double x = one->low; x <= one->high; x += 3.7) {
                    double off = crosswrap_turn(other, start, (Leg)leg, 0.3, x)
                                 - crosswrap_turn(one, start, (Leg)leg, 0.3, x);
                    assert_within(off, 110 / 360.0, 1e-12);
                }
        for (double x = one->field_start + 1; x < one->field_end; x += 2.3)
            for (double turn = 0.01; turn < 1; turn += 0.093) {
                SeenStrand seen = {0}, there = {0};
                bool shows = crosswrap_shows(one, x, turn, &seen);
                assert_int_equal(shows, crosswrap_shows(other, x, turn + 110 / 360.0, &there));
                assert_true(!shows || (seen.pass == there.pass && seen.leg == there.leg));
            }
    }
    /* The family that faces up does so at the place's angle. */
    double best = 1;
    for (uint32_t line = 0; line < crosswrap_line_count(crosswrap_at(&turned, 0)); line++)
        best = fmin(best, fabs(remainder(crosswrap_line_turn(crosswrap_at(&turned, 0), line) - 110 / 360.0, 1)));
    assert_within(best, 0, 1e-12);
    turnlay_free(made.compilation);
    turnlay_free(turned.compilation);
}

/* Turns, widths, pieces and how many threads lie under a turn do not ask where a ring stands: the pages say the
 * same but for the angle. */
static void nothing_else_goes_round(void **state)
{
    (void)state;
#define CROWDED(angle)                                                                                            \
    "at 40 cm guide: ring16 angle: " angle " {\n"                                                                 \
    "    band 6 turns of navy  band 2 turns of mist  band 2 turns of navy  band 2 turns of mist  band fill of dusk }\n"
    Made made = rod(CROWDED("0 deg")), turned = rod(CROWDED("140 deg"));
    assert_int_equal(made.compilation->findings.list.count, turned.compilation->findings.list.count);
    assert_true(made.compilation->findings.list.count > 0);
    for (uint32_t i = 0; i < made.compilation->findings.list.count; i++) {
        const Finding *one = &made.compilation->findings.list.items[i],
                      *other = &turned.compilation->findings.list.items[i];
        assert_int_equal(one->code, other->code);
        assert_string_equal(one->message, other->message);
        assert_string_equal(one->at.label, other->at.label);
    }
    const PlannedRod *one = &made.compilation->plan->rods[0], *other = &turned.compilation->plan->rods[0];
    assert_int_equal(one->piece_count, other->piece_count);
    for (uint32_t i = 0; i < one->piece_count; i++)
        assert_within(one->pieces[i].wound, other->pieces[i].wound, 0);
    turnlay_free(made.compilation);
    turnlay_free(turned.compilation);
}

/* --- what is said --- */

static const SheetAction *step_of_kind(const Made *made, ActionKind kind, int nth)
{
    const SheetRod *sheet = &made->sheet->rods[0];
    for (uint32_t i = 0; i < sheet->action_count; i++)
        if (sheet->actions[i].action->kind == kind && nth-- == 0)
            return &sheet->actions[i];
    fail_msg("no step number %d of kind %d", nth, (int)kind);
    return NULL;
}

static void clocks_name_what_they_count_from(void **state)
{
    (void)state;
    Made made = rod("at 10 cm { band 60 turns of navy }\n"
                    "at 20 cm angle: 97.5 deg { band 60 turns of navy }\n"
                    "at 40 cm guide: ring6 { band fill of navy }\n"
                    "at 50 cm guide: ring6 angle: 60 deg { band fill of navy }\n");
    static const char *const wanted[] = {"", ", the line at 97.5 deg at 12", ", this ring at 12",
                                         ", this ring at 12"};
    const SheetRod *sheet = &made.sheet->rods[0];
    uint32_t seen = 0;
    for (uint32_t i = 0; i < sheet->action_count; i++) {
        if (!*sheet->actions[i].clock)
            continue;
        char *after;
        long hour = strtol(sheet->actions[i].clock, &after, 10);
        assert_in_range(hour, 4, 8);
        uint32_t place = sheet->actions[i].action->place;
        /* That it is the rod's line is said once. */
        bool first = !(seen >> place & 1);
        assert_string_equal(after + strlen(" o'clock"),
                            first && place == 0 ? ", the rod's line at 12" : wanted[place]);
        seen |= 1u << place;
    }
    assert_int_equal(seen, 15);
    assert_says(made.sheet->orientation,
                "clockwise as you look from the butt to the tip. The rod's line runs along the blank "
                "through the middle of the reel's foot; it is at 0 deg");
    turnlay_free(made.compilation);
}

/* Diameters on the cone: 12 mm less 8 mm a metre. At 400 mm it is 8.8 mm, and 60 deg of it are 8.8 pi / 6 = 4.61
 * mm; at 500 mm 8 mm, and the shorter way to 240 deg is 8 pi / 3 = 8.38 mm; at 200 mm 10.4 mm, 270 deg, 10.4 pi /
 * 4 = 8.17 mm. */
static void the_way_round_is_said_in_mm(void **state)
{
    (void)state;
    Made made = rod("at 20 cm angle: -90 deg { band 60 turns of navy }\n"
                    "at 30 cm guide: ring6 { band fill of navy }\n"
                    "at 40 cm guide: ring6 angle: 60 deg { band fill of navy }\n"
                    "at 50 cm guide: ring6 angle: 240 deg { band fill of navy }\n"
                    "at 60 cm guide: ring6 angle: 180 deg { band fill of navy }\n");
    assert_says(step_of_kind(&made, ACTION_MARK, 0)->detail,
                "Mark its own line, too, at 270 deg (9 o'clock): 8 mm "
                "counter-clockwise round the blank from the rod's line. ");
    assert_keeps_quiet(step_of_kind(&made, ACTION_MARK, 2)->detail, "line, too");
    static const char *const taped[] = {
        "Its ring comes 300 mm from the butt, on the rod's line. The tip of this foot lies 3 mm from the mark. ",
        "Its ring comes 400 mm from the butt, at 60 deg (2 o'clock): 4.5 mm clockwise round the blank from the rod's line. The tip of",
        "Its ring comes 500 mm from the butt, at 240 deg (8 o'clock): 8.5 mm counter-clockwise round the blank from the rod's line. The",
        "Its ring comes 600 mm from the butt, at 180 deg (6 o'clock) from the rod's line. The tip of this foot",
    };
    for (int i = 0; i < 4; i++)
        assert_says(step_of_kind(&made, ACTION_TAPE_GUIDE, i)->detail, taped[i]);
    const SheetAction *align = step_of_kind(&made, ACTION_ALIGN, 0);
    assert_string_equal(align->says, "Sight along the rod and bring each guide to its angle");
    assert_says(align->detail,
                "ring6 300 mm from the butt on the rod's line; ring6 400 mm from the butt at 60 deg (2 o'clock); "
                "ring6 500 mm from the butt at 240 deg (8 o'clock); ring6 600 mm from the butt at 180 deg "
                "(6 o'clock); the rod's line is at 12. Nudge");
    turnlay_free(made.compilation);
    made = rod("at 40 cm guide: ring16 angle: 60 deg { band fill of navy }"); /* of two feet, told once */
    assert_says(step_of_kind(&made, ACTION_ALIGN, 0)->detail,
                "ring16 400 mm from the butt at 60 deg (2 o'clock); the rod's line is at 12. Nudge");
    assert_int_equal(strncmp(step_of_kind(&made, ACTION_ALIGN, 0)->detail,
                             "ring16 400 mm from the butt at 60 deg (2 o'clock); t", 52),
                     0);
    turnlay_free(made.compilation);
    made = rod("at 30 cm guide: ring16 { band fill of navy }");
    assert_says(step_of_kind(&made, ACTION_TAPE_GUIDE, 0)->detail,
                "Its ring comes 300 mm from the butt, on the rod's line. The tip of this foot lies ");
    assert_string_equal(step_of_kind(&made, ACTION_ALIGN, 0)->says,
                        "Sight along the rod and bring the guides into line");
    turnlay_free(made.compilation);
}

/* On a crosswrap nobody can say how thick what lies there is. */
static void a_guide_on_a_crosswrap_has_its_angle_alone(void **state)
{
    (void)state;
    Made made =
        rod("at 10 cm length: 120 mm { diamond crossings: 3 ends: 12 turns of navy { strand 2 of mist } }\n"
            "at 16 cm guide: ring16 angle: 60 deg { band fill of navy }\n");
    assert_non_null(place_of(&made, 1)->host);
    assert_says(step_of_kind(&made, ACTION_TAPE_GUIDE, 0)->detail,
                "Its ring comes 160 mm from the butt, at 60 deg (2 o'clock) from the rod's line. The tip");
    turnlay_free(made.compilation);
}

/* --- pages for programs --- */

static void programs_read_the_angle(void **state)
{
    (void)state;
    Made made = rod("at 60 cm guide: ring6 angle: -60 deg { band fill of navy }\n" CROSSED("12.5 deg"));
    Buffer out;
    buffer_start(&out, &made.compilation->arena);
    emit_plan_json(&out, made.sheet->bench, &made.compilation->findings);
    buffer_put(&out, "", 1);
    assert_says(out.bytes, "\"angle_deg\": 300,");
    assert_says(out.bytes, "\"angle_deg\": 12.5,");
    Buffer table;
    buffer_start(&table, &made.compilation->arena);
    emit_plan_csv(&table, made.compilation->plan);
    buffer_put(&table, "", 1);
    assert_says(table.bytes, "line,column,angle_deg,pass");
    assert_says(table.bytes, ",300,,,,,,\r\n");
    assert_says(table.bytes, ",12.5,,,,,,\r\n");
    assert_says(table.bytes, ",12.5,0,0,0,");
    turnlay_free(made.compilation);
}

/* --- templates --- */

/* The lines of a template are those of the one with all on the rod's line, farther round; and the rod's line is
 * there. */
static void templates_keep_the_rods_line(void **state)
{
    (void)state;
    Made made = rod(CROSSED("0 deg")), turned = rod(CROSSED("110 deg"));
    for (uint32_t p = 0; p < 2; p++) {
        Arena *arena = &turned.compilation->arena;
        TemplateLines one = template_lines(arena, crosswrap_at(&made, p)),
                      other = template_lines(arena, crosswrap_at(&turned, p));
        uint32_t rods = 0, facing = 0;
        for (uint32_t i = 0; i < other.list.count; i++) {
            const TemplateLine *line = &other.list.items[i];
            rods += line->rods;
            facing += line->facing;
            if (line->rods) {
                assert_within(line->turn, 0, 0);
                assert_int_equal(line->marks.count, 0);
                continue;
            }
            const TemplateLine *same = NULL;
            for (uint32_t k = 0; k < one.list.count; k++)
                if (fabs(remainder(one.list.items[k].turn + 110 / 360.0 - line->turn, 1)) < 1e-9)
                    same = &one.list.items[k];
            assert_non_null(same);
            assert_int_equal(line->facing, same->facing);
            assert_int_equal(line->marks.count, same->marks.count);
            for (uint32_t m = 0; m < line->marks.count; m++)
                assert_within(line->marks.items[m], same->marks.items[m], 1e-9);
        }
        assert_int_equal(rods, 1);
        assert_int_equal(facing, 1);
        assert_int_equal(other.list.count, one.list.count + 1);
    }
    turnlay_free(made.compilation);
    turnlay_free(turned.compilation);
}

/* --- pictures --- */

#define LOOKED_AT(angle) "at 40 cm angle: " angle " guide: ring9 { band fill of navy }\n"

static Made seen_rod(const char *places)
{
    static char text[4096];
    snprintf(text, sizeof text,
             HEAD
             "guide ring9 { foot: [12 mm, 12 mm], gap: 6 mm, width: 2 mm, height: 1 mm, ring: 9 mm, tall: 13 mm, "
             "frame: #654321, insert: #123456 }\nrod \"R\" on tube {\n%s\n}\n",
             places);
    return make(text);
}

/* The first shape of that colour, and the middle of its height. */
static uint32_t filled(const Drawing *drawing, uint32_t fill, double *middle)
{
    for (uint32_t i = 1; i < drawing->shapes.count; i++) {
        const Shape *shape = &drawing->shapes.items[i];
        if (shape->kind != SHAPE_POLYGON || shape->fill != fill)
            continue;
        double high = INFINITY, low = -INFINITY;
        for (uint32_t p = 0; p < shape->point_count; p++) {
            high = fmin(high, shape->points[p].y);
            low = fmax(low, shape->points[p].y);
        }
        *middle = (high + low) / 2;
        return i;
    }
    fail_msg("nothing has the colour #%06x", fill);
    return 0;
}

static uint32_t lines_of(const Drawing *drawing)
{
    uint32_t count = 0;
    for (uint32_t i = 0; i < drawing->shapes.count; i++)
        count += drawing->shapes.items[i].kind == SHAPE_LINE;
    return count;
}

static double height_of(const Drawing *drawing, const char *words)
{
    for (uint32_t i = 0; i < drawing->shapes.count; i++)
        if (drawing->shapes.items[i].kind == SHAPE_TEXT && strcmp(drawing->shapes.items[i].text, words) == 0)
            return drawing->shapes.items[i].at.y;
    fail_msg("not in the picture: %s", words);
    return 0;
}

/* From the side, the rod's line on top: a ring stands as far from the axis as its angle says, in front of the
 * blank or behind it. The blank is 8.8 mm thick there, and the ring's middle 13 - 4.5 mm above it. */
static void rings_stand_round_the_rod_in_side_view(void **state)
{
    (void)state;
    static const struct {
        const char *places;
        double degrees;
    } cases[] = {{LOOKED_AT("60 deg"), 60},   {LOOKED_AT("90 deg"), 90},   {LOOKED_AT("120 deg"), 120},
                 {LOOKED_AT("180 deg"), 180}, {LOOKED_AT("240 deg"), 240}, {LOOKED_AT("-60 deg"), 300}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Made made = seen_rod(cases[i].places);
        Arena *arena = &made.compilation->arena;
        for (double facing = 90; facing < 360; facing += 110) {
            const Drawing *drawing =
                draw_rod_turned(arena, made.compilation->plan, 0, VIEW_SIDE, 2, facing == 90 ? NAN : facing);
            double axis, ring, lean = (cases[i].degrees + 90 - facing) / 180 * TRADE_PI;
            uint32_t tube = filled(drawing, 0x3a4143, &axis), band = filled(drawing, 0x123456, &ring);
            assert_within(ring - axis, -2 * (4.4 + 13 - 4.5) * cos(lean), 0.05);
            if (fabs(sin(lean)) > 0.01)
                assert_int_equal(band < tube, sin(lean) < 0);
            /* Between the words above it and the numbers below. */
            assert_true(ring - 9 > height_of(drawing, label_of(&made, 1)));
            assert_true(ring + 9 < height_of(drawing, "mm"));
        }
        turnlay_free(made.compilation);
    }
}

/* Unrolled, this ring in the middle; what lies clockwise of it lies below, and the rod's line where it is. */
static void rings_lie_in_the_middle_of_the_unrolled_surface(void **state)
{
    (void)state;
    Made made = seen_rod(LOOKED_AT("60 deg"));
    const Drawing *drawing = draw_rod(&made.compilation->arena, made.compilation->plan, 0, VIEW_UNROLLED, 4);
    double ring = height_of(drawing, "60 ring"), quarter = height_of(drawing, "150") - ring;
    assert_true(quarter > 0);
    assert_within(ring - height_of(drawing, "330"), quarter, 1e-6);
    assert_within(ring - height_of(drawing, "240"), 2 * quarter, 1e-6);
    assert_within(ring - height_of(drawing, "0 rod's line"), quarter * 60 / 90, 1e-6);
    turnlay_free(made.compilation);
    made = seen_rod(LOOKED_AT("22.26 deg")); /* to a tenth of a degree */
    drawing = draw_rod(&made.compilation->arena, made.compilation->plan, 0, VIEW_UNROLLED, 4);
    assert_within(height_of(drawing, "22.3 ring") - height_of(drawing, "0 rod's line"), quarter * 22.26 / 90,
                  1e-6);
    turnlay_free(made.compilation);
    made = seen_rod(LOOKED_AT("180 deg"));
    drawing = draw_rod(&made.compilation->arena, made.compilation->plan, 0, VIEW_UNROLLED, 4);
    assert_within(
        height_of(drawing, "0 rod's line"),
        height_of(drawing, "180 ring") - 2 * (height_of(drawing, "270") - height_of(drawing, "180 ring")), 1e-6);
    Made below = made;
    made = seen_rod(LOOKED_AT("0 deg")); /* the rod's line is among the quarters: no line more */
    assert_int_equal(lines_of(drawing),
                     lines_of(draw_rod(&made.compilation->arena, made.compilation->plan, 0, VIEW_UNROLLED, 4)));
    turnlay_free(made.compilation);
    Made aside = seen_rod(LOOKED_AT("60 deg"));
    assert_int_equal(lines_of(draw_rod(&aside.compilation->arena, aside.compilation->plan, 0, VIEW_UNROLLED, 4)),
                     lines_of(drawing) + 1);
    turnlay_free(aside.compilation);
    turnlay_free(below.compilation);
    made = seen_rod(LOOKED_AT("0 deg") "at 20 cm { band 20 turns of navy }\n");
    drawing = draw_rod(&made.compilation->arena, made.compilation->plan, 0, VIEW_UNROLLED, 4);
    assert_true(height_of(drawing, "0 ring") > 0 && height_of(drawing, "0 rod's line") > 0);
    turnlay_free(made.compilation);
}

/* Of a crossing line, beside the tip's end. */
static double number_beside(const Drawing *drawing, const char *words)
{
    for (uint32_t i = 0; i < drawing->shapes.count; i++) {
        const Shape *shape = &drawing->shapes.items[i];
        if (shape->kind == SHAPE_TEXT && shape->align == ALIGN_START && strcmp(shape->text, words) == 0)
            return shape->at.y;
    }
    fail_msg("not beside the picture: %s", words);
    return 0;
}

/* The next shape from there on that is a part of a wrap, or its grooves. */
static uint32_t next_wound(const Drawing *drawing, uint32_t from)
{
    enum { MANY = 20 };
    for (; from < drawing->shapes.count; from++) {
        const Shape *shape = &drawing->shapes.items[from];
        if ((shape->kind == SHAPE_POLYGON && shape->fill != NO_COLOUR)
            || (shape->kind == SHAPE_LINE && shape->point_count > MANY))
            break;
    }
    return from;
}

/* A crosswrap, and a thread of several colours, look on the surface cut open as they do on the rod's line: shape
 * by shape but for the numbers beside it. */
static void unrolled_wraps_look_alike_at_any_angle(void **state)
{
    (void)state;
#define LOOKS(angle) CROSSED(angle) "at 50 cm angle: " angle " { band 40 turns of dusk }\n"
    Made made = rod(LOOKS("0 deg")), turned = rod(LOOKS("75 deg"));
    const Drawing *one = draw_rod(&made.compilation->arena, made.compilation->plan, 0, VIEW_UNROLLED, 3);
    const Drawing *other = draw_rod(&turned.compilation->arena, turned.compilation->plan, 0, VIEW_UNROLLED, 3);
    uint32_t seen = 0;
    for (uint32_t a = 1, b = 1;; a++, b++) {
        a = next_wound(one, a);
        b = next_wound(other, b);
        if (a == one->shapes.count || b == other->shapes.count) {
            assert_true(a == one->shapes.count && b == other->shapes.count);
            break;
        }
        const Shape *first = &one->shapes.items[a], *second = &other->shapes.items[b];
        assert_int_equal(first->fill, second->fill);
        assert_int_equal(first->point_count, second->point_count);
        for (uint32_t p = 0; p < first->point_count; p++) {
            assert_within(first->points[p].x, second->points[p].x, 1e-6);
            assert_within(first->points[p].y, second->points[p].y, 1e-6);
        }
        seen++;
    }
    assert_true(seen > 30);
    assert_within(height_of(other, "75"), height_of(one, "0 rod's line"), 1e-6);
    assert_within(number_beside(other, "75"), number_beside(one, "0"), 1e-6);
    turnlay_free(made.compilation);
    turnlay_free(turned.compilation);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(degrees_are_taken_back_to_one_turn),
        cmocka_unit_test(a_way_round_is_an_arc),
        cmocka_unit_test(labels_say_the_angle_where_there_is_one),
        cmocka_unit_test(crosswraps_go_round_with_their_place),
        cmocka_unit_test(nothing_else_goes_round),
        cmocka_unit_test(clocks_name_what_they_count_from),
        cmocka_unit_test(the_way_round_is_said_in_mm),
        cmocka_unit_test(a_guide_on_a_crosswrap_has_its_angle_alone),
        cmocka_unit_test(programs_read_the_angle),
        cmocka_unit_test(templates_keep_the_rods_line),
        cmocka_unit_test(rings_stand_round_the_rod_in_side_view),
        cmocka_unit_test(rings_lie_in_the_middle_of_the_unrolled_surface),
        cmocka_unit_test(unrolled_wraps_look_alike_at_any_angle),
    };
    return cmocka_run_group_tests_name("places at an angle", tests, NULL, NULL);
}
