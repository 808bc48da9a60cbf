/* The feasibility rules over jobs built by hand and laid out by plan_make. Each job is one layer on a tube of one
 * diameter; its statements are written into a source beside it, so that edits can be applied to the letter. */
#include <stdarg.h>
#include <stddef.h>
#include <setjmp.h>
#include <stdint.h>
#include <cmocka.h>

#include "check/check.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { MOST_THREADS = 4, MOST_ITEMS = 16, MOST_INLAYS = 8 };

typedef struct Workshop {
    Trap trap;
    Arena arena;
    Texts texts;
    Findings findings;
    Sources sources;
    Buffer text;
    Job job;
    Thread threads[MOST_THREADS];
    const Thread *declared[MOST_THREADS];
    Strands strands[MOST_THREADS];
    Strand strand[MOST_THREADS];
    Item items[MOST_ITEMS];
    Inlay inlays[MOST_ITEMS][MOST_INLAYS];
    Station stations[2];
    Blank blank;
    Guide guide;
    Layer layer;
    Place place;
    Rod rod;
    Plan *plan;
} Workshop;

/* Appends to the source; the span of `part` within what was appended. */
static Span write_source(Workshop *shop, const char *line, const char *part)
{
    uint32_t start = (uint32_t)(shop->text.length + (size_t)(strstr(line, part) - line));
    buffer_text(&shop->text, line);
    return (Span){start, start + (uint32_t)strlen(part), 0};
}

/* A workshop with the defaults of bench { } and four threads of 0.16 mm, counted: navy, mist, foam, slate. */
static void open_shop(Workshop *shop)
{
    static const char *const names[MOST_THREADS] = {"navy", "mist", "foam", "slate"};
    *shop = (Workshop){0};
    arena_start(&shop->arena, &shop->trap);
    texts_start(&shop->texts, &shop->arena);
    findings_start(&shop->findings, &shop->arena);
    buffer_start(&shop->text, &shop->arena);
    for (uint32_t i = 0; i < MOST_THREADS; i++) {
        const char *line = text_format(&shop->arena, "thread %s { turns: 62.5 per cm }\n", names[i]);
        Span name = write_source(shop, line, names[i]);
        Span width = {name.end + 3, name.end + 3 + (uint32_t)strlen("turns: 62.5 per cm"), 0};
        shop->threads[i] = (Thread){.opacity = 1,
                                    .name = text_of_string(&shop->texts, names[i]),
                                    .span = name,
                                    .width_span = width,
                                    .width_source = WIDTH_COUNTED,
                                    .pitch = 0.16,
                                    .diameter = 0.16,
                                    .uncertainty = 0.01,
                                    .stock = NAN,
                                    .spool = NAN,
                                    .price = NAN,
                                    .preserver_span = name,
                                    .index = i};
        shop->declared[i] = &shop->threads[i];
        shop->strand[i] = (Strand){&shop->threads[i], false};
        shop->strands[i] = (Strands){&shop->strand[i], 1, 0.16, 0.16};
    }
    shop->job.bench = (Bench){.units = SYSTEM_MM,
                              .bind = 6,
                              .loop = 4,
                              .final = 8,
                              .free = 150,
                              .tolerance = 0.5,
                              .hand = 1500,
                              .apart = 1,
                              .coat = 0.25,
                              .ridge = 3,
                              .friction = 0.2,
                              .pack = 40,
                              .measure = NAN,
                              .speed = 60,
                              .handling = 60,
                              .span = {0, 0, 0}};
    shop->layer.length = NAN;
    shop->layer.items = shop->items;
    shop->stations[0] = (Station){0, 10};
    shop->stations[1] = (Station){1000, 10};
    shop->place = (Place){.mark = 100, .direction = 1, .length = NAN, .layers = &shop->layer, .layer_count = 1};
}

/* A `bench { ... }` that is written, without the option that a test asks about. */
static void write_bench(Workshop *shop, const char *braces)
{
    const char *line = text_format(&shop->arena, "bench %s\n", braces);
    shop->job.bench.span = write_source(shop, line, braces);
    shop->job.bench.written = true;
}

static Item *add_item(Workshop *shop, ItemKind kind, uint32_t thread, const char *line)
{
    Item *item = &shop->items[shop->layer.item_count++];
    *item = (Item){.kind = kind, .strands = &shop->strands[thread]};
    item->span = write_source(shop, line, line);
    item->span.end--; /* without the end of the line */
    item->strands_span = item->span;
    return item;
}

/* `written` is the extent as it stands in the source; it comes to so many turns. */
static Item *add_band_as(Workshop *shop, uint32_t thread, const char *written, double turns)
{
    const char *name = shop->threads[thread].name->bytes;
    Item *item = add_item(shop, ITEM_BAND, thread, text_format(&shop->arena, "band %s of %s\n", written, name));
    uint32_t start = item->span.start + (uint32_t)strlen("band ");
    item->extent = (Extent){EXTENT_TURNS, turns, NULL, 0, {start, start + (uint32_t)strlen(written), 0}};
    item->inlays = shop->inlays[shop->layer.item_count - 1];
    return item;
}

static Item *add_band(Workshop *shop, uint32_t thread, double turns)
{
    return add_band_as(shop, thread, show_turns(&shop->arena, turns), turns);
}

static void add_fade(Workshop *shop, uint32_t thread, uint32_t steps)
{
    const Strands *from = shop->items[shop->layer.item_count - 1].strands;
    const char *name = shop->threads[thread].name->bytes;
    const char *line = text_format(&shop->arena, "fade to %s steps: %u\n", name, steps);
    Item *item = add_item(shop, ITEM_FADE, thread, line);
    item->from = from;
    item->fade_rule = FADE_STEPS;
    item->steps = steps;
}

static void add_gap(Workshop *shop, double mm)
{
    Item *item = add_item(shop, ITEM_GAP, 0, "gap\n");
    item->strands = NULL;
    item->extent = (Extent){.kind = EXTENT_LENGTH, .amount = mm, .span = item->span};
}

static void add_inlay(Workshop *shop, uint32_t thread, double turns, PositionKind kind, double at,
                      const char *written)
{
    Item *band = &shop->items[shop->layer.item_count - 1];
    Inlay *inlay = &shop->inlays[shop->layer.item_count - 1][band->inlay_count++];
    const char *name = shop->threads[thread].name->bytes;
    const char *line = text_format(&shop->arena, "inlay of %s at: %s\n", name, written);
    *inlay = (Inlay){.strands = &shop->strands[thread], .at_kind = kind, .at = at};
    inlay->extent = (Extent){.kind = EXTENT_TURNS, .amount = turns};
    inlay->at_span = write_source(shop, line, written);
    inlay->span = (Span){inlay->at_span.end - (uint32_t)strlen(line) + 1, inlay->at_span.end, 0};
}

static void run(Workshop *shop)
{
    *LIST_ADD(&shop->arena, &shop->sources.list) =
        (Source){"test.lay", "", text_format(&shop->arena, "%.*s", (int)shop->text.length, shop->text.bytes),
                 (uint32_t)shop->text.length};
    shop->blank =
        (Blank){.name = text_of_string(&shop->texts, "tube"), .stations = shop->stations, .station_count = 2};
    shop->rod = (Rod){.title = text_of_string(&shop->texts, "Test"),
                      .blank = &shop->blank,
                      .places = &shop->place,
                      .place_count = 1};
    shop->job.threads = shop->declared;
    shop->job.thread_count = MOST_THREADS;
    shop->job.rods = &shop->rod;
    shop->job.rod_count = 1;
    shop->job.sources = &shop->sources;
    shop->plan = plan_make(&shop->arena, &shop->job, &shop->findings);
    assert_int_equal(shop->findings.list.count, 0);
    check_plan(&shop->arena, shop->plan, &shop->findings);
}

static const Finding *found(const Workshop *shop, FindingCode code)
{
    for (uint32_t i = 0; i < shop->findings.list.count; i++)
        if (shop->findings.list.items[i].code == code)
            return &shop->findings.list.items[i];
    return NULL;
}

/* The job's findings are those codes and no other. */
static void expect_only(const Workshop *shop, const char *codes)
{
    char all[200] = "";
    for (uint32_t i = 0; i < shop->findings.list.count; i++) {
        if (i)
            strcat(all, " ");
        strcat(all, finding_code_text(shop->findings.list.items[i].code));
    }
    assert_string_equal(all, codes);
}

/* The edit is `text` in the place of `old` (the empty text: an insertion). */
static void expect_edit(const Workshop *shop, FindingCode code, const char *old, const char *text)
{
    const Finding *finding = found(shop, code);
    assert_non_null(finding);
    assert_true(finding->has_edit);
    Span span = finding->edit.span;
    assert_int_equal(span.end - span.start, strlen(old));
    assert_memory_equal(shop->sources.list.items[0].bytes + span.start, old, strlen(old));
    assert_string_equal(finding->edit.text, text);
}

enum { NAVY, MIST, FOAM, SLATE };

/* P. D. Frazer, The Angler's Workshop I: Rodmaking for Beginners (1908), p. 158: bands of ten to twelve
 * turns with the pull-through laid in after the sixth are held. */
static void a_band_of_ten_to_twelve_turns_is_held(void **state)
{
    (void)state;
    for (double turns = 10; turns <= 12; turns++) {
        Workshop shop;
        open_shop(&shop);
        add_band(&shop, NAVY, turns);
        run(&shop);
        expect_only(&shop, "");
        arena_end(&shop.arena);
    }
}

static void a_trim_beside_a_long_band_is_held_by_it(void **state)
{
    (void)state;
    Workshop shop;
    open_shop(&shop);
    add_band(&shop, FOAM, 3);
    add_band(&shop, NAVY, 60);
    add_band(&shop, FOAM, 3);
    run(&shop);
    expect_only(&shop, "");
    arena_end(&shop.arena);
}

static void a_fade_needs_turns_before_it(void **state)
{
    (void)state;
    for (int turns = 4; turns <= 6; turns++) {
        Workshop shop;
        open_shop(&shop);
        add_band(&shop, NAVY, turns);
        add_fade(&shop, MIST, 4);
        add_band(&shop, MIST, 20);
        run(&shop);
        expect_only(&shop, turns < 6 ? "T401" : "");
        if (turns < 6)
            expect_edit(&shop, FINDING_NOT_HELD, show_turns(&shop.arena, turns), "6 turns");
        arena_end(&shop.arena);
    }
}

static void all_turns_of_a_wrap_count_and_a_gap_begins_anew(void **state)
{
    (void)state;
    Workshop shop;
    open_shop(&shop);
    add_band(&shop, FOAM, 3);
    add_band(&shop, NAVY, 3);
    add_fade(&shop, MIST, 4);
    add_band(&shop, MIST, 20);
    run(&shop);
    assert_null(found(&shop, FINDING_NOT_HELD));
    arena_end(&shop.arena);

    open_shop(&shop);
    add_band(&shop, NAVY, 30);
    add_gap(&shop, 2);
    add_band(&shop, NAVY, 5);
    add_fade(&shop, MIST, 4);
    add_band(&shop, MIST, 20);
    run(&shop);
    expect_only(&shop, "T401");
    expect_edit(&shop, FINDING_NOT_HELD, "5 turns", "6 turns");
    arena_end(&shop.arena);
}

static void an_expression_is_kept_within_its_mend(void **state)
{
    (void)state;
    Workshop shop;
    open_shop(&shop);
    add_band_as(&shop, NAVY, "edge * 2", 4);
    add_fade(&shop, MIST, 4);
    add_band(&shop, MIST, 20);
    run(&shop);
    expect_edit(&shop, FINDING_NOT_HELD, "edge * 2", "max(edge * 2, 6 turns)");
    arena_end(&shop.arena);
}

static void without_a_band_to_lengthen_bind_is_lowered(void **state)
{
    (void)state;
    Workshop shop;
    for (double turns = 3; turns <= 4; turns++) {
        open_shop(&shop);
        add_band(&shop, NAVY, turns)->extent.span.file = 1; /* as if it stood in a file that is used */
        add_fade(&shop, MIST, 4);
        add_band(&shop, MIST, 20);
        run(&shop);
        expect_only(&shop, "T401");
        if (turns < 4)
            assert_false(found(&shop, FINDING_NOT_HELD)->has_edit); /* bind may not be less than 4 */
        else
            expect_edit(&shop, FINDING_NOT_HELD, "", "bench { bind: 4 turns }\n");
        arena_end(&shop.arena);
    }
}

/* An inlay of 2 turns at 1/5 of 20 turns takes the turns 3 and 4: 3 turns lie before it. With its middle at
 * 7 turns it takes 6 and 7. */
static void an_inlay_is_set_further_in(void **state)
{
    (void)state;
    Workshop shop;
    open_shop(&shop);
    add_band(&shop, NAVY, 20);
    add_inlay(&shop, MIST, 2, AT_RATIO, 0.2, "1/5");
    run(&shop);
    expect_only(&shop, "T401");
    expect_edit(&shop, FINDING_NOT_HELD, "1/5", "7 turns");
    arena_end(&shop.arena);

    open_shop(&shop);
    add_band(&shop, NAVY, 20);
    add_inlay(&shop, MIST, 2, AT_TURNS, 7, "7 turns");
    run(&shop);
    expect_only(&shop, "");
    arena_end(&shop.arena);
}

static void an_inlay_without_room_stays(void **state)
{
    (void)state;
    Workshop shop;
    open_shop(&shop);
    shop.job.bench.ridge = 9;
    add_band(&shop, NAVY, 9);
    add_inlay(&shop, MIST, 3, AT_TURNS, 2, "2 turns"); /* from turn 7 on it would take the band's last three */
    run(&shop);
    expect_only(&shop, "T401");
    assert_false(found(&shop, FINDING_NOT_HELD)->has_edit);
    arena_end(&shop.arena);
}

static void a_wrap_needs_its_final_turns(void **state)
{
    (void)state;
    Workshop shop;
    open_shop(&shop);
    add_band(&shop, NAVY, 7);
    run(&shop);
    expect_only(&shop, "T402");
    expect_edit(&shop, FINDING_LOOP_TOO_SHORT, "7 turns", "8 turns");
    arena_end(&shop.arena);
}

/* 3 turns, then 5: the wrap has its 8, but the first thread has neither 4 turns for a loop nor 6 after its end. */
static void a_loop_within_a_wrap_needs_turns(void **state)
{
    (void)state;
    Workshop shop;
    open_shop(&shop);
    shop.job.bench.ridge = 9;
    add_band(&shop, NAVY, 3);
    add_band(&shop, MIST, 5);
    run(&shop);
    expect_only(&shop, "T402");
    /* 4 or 5 would leave mist's tag unheld */
    expect_edit(&shop, FINDING_LOOP_TOO_SHORT, "3 turns", "6 turns");
    arena_end(&shop.arena);
}

static void a_tag_must_be_held_on_one_side(void **state)
{
    (void)state;
    Workshop shop;
    open_shop(&shop);
    shop.job.bench.ridge = 9;
    add_band(&shop, NAVY, 4);
    add_band(&shop, MIST, 5);
    run(&shop);
    expect_only(&shop, "T403");
    expect_edit(&shop, FINDING_NOT_ENDED, "5 turns", "6 turns");
    arena_end(&shop.arena);

    open_shop(&shop);
    shop.job.bench.final = 4;
    add_band(&shop, NAVY, 5);
    run(&shop);
    expect_only(&shop, "T403");
    expect_edit(&shop, FINDING_NOT_ENDED, "5 turns", "6 turns");
    arena_end(&shop.arena);
}

/* Under turns 4 to 6 lie the tags of all three threads and the end of the first. */
static void strands_under_a_turn_are_counted(void **state)
{
    (void)state;
    Workshop shop;
    open_shop(&shop);
    write_bench(&shop, "{ units: mm }");
    add_band(&shop, FOAM, 3);
    add_band(&shop, MIST, 3);
    add_band(&shop, NAVY, 30);
    run(&shop);
    expect_only(&shop, "T404");
    assert_string_equal(found(&shop, FINDING_RIDGE)->message, "4 threads lie under one turn");
    assert_int_equal(found(&shop, FINDING_RIDGE)->related_count, 3);
    expect_edit(&shop, FINDING_RIDGE, "", " ridge: 4,");
    arena_end(&shop.arena);

    open_shop(&shop);
    shop.job.bench.ridge = 4;
    add_band(&shop, FOAM, 3);
    add_band(&shop, MIST, 3);
    add_band(&shop, NAVY, 30);
    run(&shop);
    expect_only(&shop, "");
    arena_end(&shop.arena);
}

/* Two strands wound together, with inlays of 2 turns from turn 21 and from turn 27 on. Under turns 21 and 22 lie
 * both strands, standing, and the tag of the second inlay, which reaches 6 turns back; elsewhere at most 2. */
static void what_stands_lies_under_the_turns_made_meanwhile(void **state)
{
    (void)state;
    for (uint32_t ridge = 2; ridge <= 3; ridge++) {
        Workshop shop;
        open_shop(&shop);
        shop.job.bench.ridge = ridge;
        Strands pair = {shop.strand, 2, 0.32, 0.16};
        add_band(&shop, NAVY, 60)->strands = &pair;
        shop.strand[1].thread = &shop.threads[MIST];
        shop.strands[FOAM].pitch = shop.strands[SLATE].pitch = 0.32; /* a turn for a turn */
        add_inlay(&shop, FOAM, 2, AT_TURNS, 21, "21 turns");
        add_inlay(&shop, SLATE, 2, AT_TURNS, 27, "27 turns");
        run(&shop);
        expect_only(&shop, ridge == 2 ? "T404" : "");
        if (ridge == 2) {
            assert_string_equal(found(&shop, FINDING_RIDGE)->message, "3 threads lie under one turn");
            assert_string_equal(found(&shop, FINDING_RIDGE)->at.label,
                                "from turn 21 of this layer on, for 2 turns; 2 are allowed");
        }
        arena_end(&shop.arena);
    }
}

/* What bench { } asks for need not be whole turns: it is told to a thousandth. */
static void parts_of_turns_are_told_to_a_thousandth(void **state)
{
    (void)state;
    Workshop shop;
    open_shop(&shop);
    shop.job.bench.bind = 20 / 3.0;
    shop.job.bench.final = 4;
    add_band(&shop, NAVY, 6);
    run(&shop);
    const Finding *finding = &shop.findings.list.items[0];
    assert_non_null(strstr(finding->at.label, "6.667"));
    assert_null(strstr(finding->at.label, "6.6667"));
    arena_end(&shop.arena);
}

/* On a cone strands have least room where it is thinnest, also in the middle of a run: under the turns 21 to 26,
 * those of one strand of 0.16 mm after 20 of two, lie both ends and the new tag, held by 6 turns. */
static void strands_crowd_where_the_blank_is_thin(void **state)
{
    (void)state;
    Workshop shop;
    open_shop(&shop);
    shop.stations[0] = (Station){0, 30};
    shop.stations[1] = (Station){300, 3};
    shop.job.bench.apart = 17;
    Strands pair = {shop.strand, 2, 0.32, 0.16};
    add_band(&shop, NAVY, 20)->strands = &pair;
    shop.strand[1].thread = &shop.threads[MIST];
    add_band(&shop, NAVY, 40);
    run(&shop);
    expect_only(&shop, "T405");
    unsigned turn;
    double diameter;
    const char *label = found(&shop, FINDING_STRANDS_CROWD)->at.label;
    assert_int_equal(sscanf(label, "from turn %u of this layer on, at a diameter of %lf mm", &turn, &diameter), 2);
    assert_int_equal(turn, 21);
    double bare = 30 - 0.09 * (100 + 20 * 0.32 + 6 * 0.16);
    assert_true(fabs(diameter - bare) <= 0.005 + 1e-9);
    arena_end(&shop.arena);
}

/* Twelve turns: tag and end share the turns 5 and 6. Each has pi * 1.2 / 2 / 2 = 0.942 mm of the round. */
static void strands_on_a_thin_tip_crowd(void **state)
{
    (void)state;
    Workshop shop;
    open_shop(&shop);
    write_bench(&shop, "{ }");
    shop.stations[0].diameter = shop.stations[1].diameter = 1.2;
    add_band(&shop, NAVY, 12);
    run(&shop);
    expect_only(&shop, "T405");
    expect_edit(&shop, FINDING_STRANDS_CROWD, "", " apart: 0.94 mm");
    arena_end(&shop.arena);

    open_shop(&shop);
    shop.stations[0].diameter = shop.stations[1].diameter = 1.27273; /* 0.9996 mm of the 1 mm wanted */
    add_band(&shop, NAVY, 12);
    run(&shop);
    assert_string_equal(found(&shop, FINDING_STRANDS_CROWD)->message,
                        "2 threads under one turn have only 0.999 mm each round the blank");
    arena_end(&shop.arena);

    open_shop(&shop);
    shop.stations[0].diameter = shop.stations[1].diameter = 1.2;
    add_band(&shop, NAVY, 14);
    run(&shop);
    expect_only(&shop, "");
    arena_end(&shop.arena);
}

static void a_long_piece_is_passed_by_hand_only_in_a_change(void **state)
{
    (void)state;
    Workshop shop;
    open_shop(&shop);
    add_band(&shop, NAVY, 200);
    run(&shop);
    assert_null(found(&shop, FINDING_PIECE_TOO_LONG));
    arena_end(&shop.arena);

    open_shop(&shop);
    add_band(&shop, NAVY, 60);
    add_inlay(&shop, MIST, 30, AT_TURNS, 30, "30 turns");
    run(&shop);
    assert_null(found(&shop, FINDING_PIECE_TOO_LONG));
    arena_end(&shop.arena);

    /* 40 turns of pi * 10.16 mm, 12 tag turns of 0.16 mm, two free ends of 150 mm: 1.5788 m. */
    open_shop(&shop);
    add_band(&shop, NAVY, 60);
    add_inlay(&shop, MIST, 40, AT_TURNS, 30, "30 turns");
    run(&shop);
    assert_non_null(found(&shop, FINDING_PIECE_TOO_LONG));
    expect_edit(&shop, FINDING_PIECE_TOO_LONG, "", "bench { hand: 1.58 m }\n");
    arena_end(&shop.arena);

    /* a hair beyond the limit reads as beyond it */
    open_shop(&shop);
    shop.job.bench.hand = 1578.6;
    add_band(&shop, NAVY, 60);
    add_inlay(&shop, MIST, 40, AT_TURNS, 30, "30 turns");
    run(&shop);
    assert_string_equal(found(&shop, FINDING_PIECE_TOO_LONG)->at.label,
                        "1.58 m long, for 40 turns; you can wrap 1.57 m by hand");
    arena_end(&shop.arena);
}

/* The finding about a piece cut so long; its free ends make up the length. */
static const Finding *too_long(Workshop *shop, UnitSystem units, double length)
{
    const double rest = 1578.8 - 2 * 150; /* of the piece above */
    open_shop(shop);
    shop->job.bench.units = units;
    shop->job.bench.free = (length - rest) / 2;
    add_band(shop, NAVY, 60);
    add_inlay(shop, MIST, 40, AT_TURNS, 30, "30 turns");
    run(shop);
    const Finding *finding = found(shop, FINDING_PIECE_TOO_LONG);
    assert_non_null(finding);
    assert_true(strlen(finding->mend) > 0);
    return finding;
}

/* A mend is never more than `hand:` takes, 100 m, nor less than is needed; nearly up to there is one. */
static void a_hand_is_mended_as_far_as_it_goes(void **state)
{
    (void)state;
    static const double longest = 100e3,
                        step = 10; /* mm; lengths of thread are written in steps of 1 cm, 0.01 yd */
    for (UnitSystem units = SYSTEM_MM; units <= SYSTEM_IN; units++)
        for (double length = longest - 10 * step; length < longest + 10 * step; length += step / 4) {
            Workshop shop;
            const Finding *finding = too_long(&shop, units, length);
            assert_true(finding->has_edit || length > longest - 3 * step);
            if (finding->has_edit) {
                double hand;
                assert_int_equal(sscanf(finding->edit.text, "bench { hand: %lf", &hand), 1);
                hand *= strstr(finding->edit.text, " yd ") ? 914.4 : 1000;
                assert_true(hand >= length - 1 && hand <= longest);
            }
            arena_end(&shop.arena);
        }
}

/* height / ramp against friction 0.2: 1 mm over 5 mm just holds, 1.01 mm needs 5.05 mm. */
static void a_steep_ramp_slips(void **state)
{
    (void)state;
    for (int steep = 0; steep <= 1; steep++) {
        Workshop shop;
        open_shop(&shop);
        Span ramp = write_source(&shop, "guide ring { ramp: 5 mm }\n", "5 mm");
        shop.guide = (Guide){.name = text_of_string(&shop.texts, "ring"),
                             .feet = {20},
                             .foot_count = 1,
                             .width = 2,
                             .height = steep ? 1.01 : 1,
                             .ramp = 5,
                             .before = 3,
                             .ramp_span = ramp};
        shop.place.guide = &shop.guide;
        shop.place.direction = 0;
        shop.layer.over = true;
        add_band(&shop, NAVY, 100);
        run(&shop);
        expect_only(&shop, steep ? "T407" : "");
        if (steep)
            expect_edit(&shop, FINDING_SLIPS_ON_RAMP, "5 mm", "5.05 mm");
        arena_end(&shop.arena);
    }
}

static void set_diameter(Workshop *shop, uint32_t thread, double diameter)
{
    shop->threads[thread].diameter = shop->threads[thread].pitch = diameter;
    shop->strands[thread].pitch = shop->strands[thread].thickness = diameter;
}

static void threads_of_a_fade_may_differ_by_a_quarter(void **state)
{
    (void)state;
    for (int thick = 0; thick <= 1; thick++) {
        Workshop shop;
        open_shop(&shop);
        set_diameter(&shop, MIST, thick ? 0.201 : 0.2); /* 25 % of 0.16 mm: 0.04 mm */
        add_band(&shop, NAVY, 20);
        add_fade(&shop, MIST, 4);
        add_band(&shop, MIST, 20);
        run(&shop);
        expect_only(&shop, thick ? "T501" : "");
        arena_end(&shop.arena);
    }
}

static void preserver_is_for_all_threads_of_a_layer(void **state)
{
    (void)state;
    Workshop shop;
    open_shop(&shop);
    shop.threads[NAVY].preserver = true;
    add_band(&shop, NAVY, 20);
    add_band(&shop, MIST, 20);
    run(&shop);
    expect_only(&shop, "T502");
    expect_edit(&shop, FINDING_PRESERVER_MIXED, "", " preserver: yes,");
    arena_end(&shop.arena);

    /* With two plain threads one change does not mend it. */
    open_shop(&shop);
    shop.threads[NAVY].preserver = true;
    add_band(&shop, NAVY, 20);
    add_band(&shop, MIST, 20);
    add_band(&shop, FOAM, 20);
    run(&shop);
    expect_only(&shop, "T502");
    assert_false(found(&shop, FINDING_PRESERVER_MIXED)->has_edit);
    arena_end(&shop.arena);
}

static void a_nominal_thread_is_to_be_measured(void **state)
{
    (void)state;
    Workshop shop;
    open_shop(&shop);
    shop.threads[NAVY].width_source = WIDTH_NOMINAL;
    add_band(&shop, NAVY, 12);
    run(&shop);
    expect_only(&shop, "T503");
    /* 10 mm / 0.16 mm */
    expect_edit(&shop, FINDING_NOMINAL_DIAMETER, "turns: 62.5 per cm", "turns: 62.5 per cm, uncertainty: 1 %");
    arena_end(&shop.arena);

    open_shop(&shop);
    shop.threads[NAVY].width_source = WIDTH_FROM_TEX;
    shop.threads[NAVY].uncertainty_written = true; /* and stands already */
    shop.job.bench.units = SYSTEM_IN;
    add_band(&shop, NAVY, 12);
    run(&shop);
    /* 25.4 mm / 0.16 mm */
    expect_edit(&shop, FINDING_NOMINAL_DIAMETER, "turns: 62.5 per cm", "turns: 158.75 per in");
    arena_end(&shop.arena);
}

/* A layer of fixed turns is measured so many before its end: the bench's `final` and six more. */
enum { AHEAD = 8 + 6 };

/* 120 turns of 0.160 +- 0.004 mm, one unknown for all turns: 19.20 +- 0.48 mm (JCGM 100:2008, Evaluation of
 * measurement data - Guide to the expression of uncertainty in measurement, eq. 13; arithmetic). Treating the
 * turns as independent would give 0.044 mm. */
static void drift_adds_up_over_the_turns_of_one_thread(void **state)
{
    (void)state;
    static const struct {
        double tolerance;
        const char *codes;
    } cases[] = {{0.48, ""}, {0.479, "T504"}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        Workshop shop;
        open_shop(&shop);
        shop.threads[NAVY].uncertainty = 0.004 / 0.16;
        shop.job.bench.tolerance = cases[i].tolerance;
        add_band(&shop, NAVY, 120 + AHEAD);
        run(&shop);
        expect_only(&shop, cases[i].codes);
        if (i == 1) {
            assert_string_equal(found(&shop, FINDING_DRIFT)->message,
                                "the width of this layer may be off by 0.48 mm before it is measured");
            expect_edit(&shop, FINDING_DRIFT, "", "bench { measure: 119 turns }\n"); /* 119 * 0.004 = 0.476 */
        }
        arena_end(&shop.arena);
    }
}

/* Where no bench is written, it goes on a line of its own: here behind the edition. */
static void a_bench_is_written_behind_the_edition(void **state)
{
    (void)state;
    Workshop shop;
    open_shop(&shop);
    shop.job.bench.span = write_source(&shop, "edition 1\n", "edition 1");
    shop.job.bench.span.start = shop.job.bench.span.end;
    shop.job.bench.tolerance = 0.1;
    add_band(&shop, NAVY, 100);
    run(&shop);
    expect_only(&shop, "T504");
    expect_edit(&shop, FINDING_DRIFT, "", "\nbench { measure: 62 turns }"); /* 62 * 0.0016 = 0.0992 */
    arena_end(&shop.arena);
}

/* Two threads of 75 and 100 turns drift by 0.3 and 0.4 mm: together by 0.5 mm (eq. 10), not by 0.7. */
static void different_threads_drift_independently(void **state)
{
    (void)state;
    for (int above = 0; above <= 1; above++) {
        Workshop shop;
        open_shop(&shop);
        shop.threads[NAVY].uncertainty = shop.threads[MIST].uncertainty = 0.004 / 0.16;
        shop.job.bench.tolerance = above ? 0.499 : 0.5;
        for (int i = 0; i < 5; i++) { /* bands too short to be measured */
            add_band(&shop, NAVY, 15);
            add_band(&shop, MIST, 10);
            add_band(&shop, MIST, 10);
        }
        add_band(&shop, NAVY, AHEAD);
        run(&shop);
        expect_only(&shop, above ? "T504" : "");
        arena_end(&shop.arena);
    }
}

/* What is to be measured is what adds most from one measuring to the next, by its turns: not what is written
 * first, nor what is least known or thickest a turn. */
static void the_thread_that_drifts_most_is_to_be_measured(void **state)
{
    (void)state;
    static const struct {
        double navy, mist; /* turns */
        bool navy_is_counted;
        const char *mend;
    } cases[] = {{10, 19, false, "measure mist, known to 20 % only"},
                 {19, 10, false, "measure navy, known to 30 % only"},
                 {19, 10, true, "measure mist, known to 20 % only"},  /* of those that are not measured yet */
                 {40, 19, false, "measure navy, known to 30 % only"}, /* before and after a measuring */
                 {20, 19, true, "measure mist, known to 20 % only"},
                 /* No help where the width is least known before it is measured for the first time. */
                 {40, 10, true, "the threads cannot keep so narrow a tolerance"}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        Workshop shop;
        open_shop(&shop);
        shop.threads[NAVY].uncertainty = cases[i].navy_is_counted ? 0.09 : 0.3;
        shop.threads[MIST].uncertainty = 0.2;
        shop.threads[NAVY].width_source = cases[i].navy_is_counted ? WIDTH_COUNTED : WIDTH_FROM_TEX;
        shop.threads[MIST].width_source = WIDTH_FROM_TEX;
        shop.job.bench.tolerance = 0.05;
        add_band(&shop, NAVY, cases[i].navy);
        add_band(&shop, MIST, cases[i].mist);
        run(&shop);
        const char *mend = found(&shop, FINDING_DRIFT)->mend;
        if (strncmp(mend, cases[i].mend, strlen(cases[i].mend)) != 0)
            fail_msg("case %zu: %s", i, mend);
        arena_end(&shop.arena);
    }
}

/* The bench measures where a band that gives can still be corrected, 12 turns before its end here: the drift of
 * what comes after begins anew. In a layer of fixed turns so many before its end, and at its end. */
static void where_it_is_measured_drift_begins_anew(void **state)
{
    (void)state;
    static const struct {
        double turns;
        int bands;
        bool as_length;
        const char *codes;
    } cases[] = {{132, 1, false, ""}, {133, 1, false, "T504"}, {66, 2, false, ""},    {67, 2, false, "T504"},
                 {132, 1, true, ""},  {133, 1, true, "T504"},  {120, 3, true, ""},    {121, 3, true, "T504"},
                 {60, 3, true, ""},   {32, 12, true, ""},      {31, 12, true, "T504"}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        Workshop shop;
        open_shop(&shop);
        shop.threads[NAVY].uncertainty = 0.004 / 0.16;
        shop.job.bench.tolerance = 0.48;
        shop.job.bench.bind = 4;
        shop.job.bench.final = 6;
        for (int band = 0; band < cases[i].bands; band++) {
            Item *item = add_band(&shop, NAVY, cases[i].turns);
            if (cases[i].as_length) {
                item->extent.kind = EXTENT_LENGTH;
                item->extent.amount *= 0.16;
            }
        }
        run(&shop);
        expect_only(&shop, cases[i].codes);
        arena_end(&shop.arena);
    }
}

/* 0.004 mm a turn: 20 turns are 0.08 mm. Fewer are too few to be measured, and no advice. */
static void measuring_is_advised_where_it_tells_something(void **state)
{
    (void)state;
    for (int finer = 0; finer <= 1; finer++) {
        Workshop shop;
        open_shop(&shop);
        shop.threads[NAVY].uncertainty = 0.004 / 0.16;
        shop.job.bench.tolerance = finer ? 0.079 : 0.08;
        Span written = write_source(&shop, "bench { tolerance: 0.079 mm }\n", "0.079 mm");
        shop.job.bench.written = finer;
        shop.job.bench.value_spans[BENCH_TOLERANCE] = finer ? written : (Span){0, 0, 0};
        add_band(&shop, NAVY, 120 + AHEAD);
        run(&shop);
        expect_only(&shop, "T504");
        if (finer)
            expect_edit(&shop, FINDING_DRIFT, "0.079 mm", "0.48 mm"); /* 120 turns */
        else
            expect_edit(&shop, FINDING_DRIFT, "", "bench { measure: 20 turns }\n");
        arena_end(&shop.arena);
    }
}

/* 20000 turns of 0.16 mm are 3200 mm; 3.125 % of that is the widest tolerance that may be written. */
static void no_tolerance_is_advised_beyond_its_range(void **state)
{
    (void)state;
    for (int beyond = 0; beyond <= 1; beyond++) {
        Workshop shop;
        open_shop(&shop);
        shop.threads[NAVY].uncertainty = beyond ? 0.03126 : 0.03125; /* 100.03 mm, or 100 mm */
        shop.job.bench.tolerance = 0.1;
        shop.stations[1].at = 10000;
        add_band(&shop, NAVY, 20000 + AHEAD);
        run(&shop);
        assert_int_equal(found(&shop, FINDING_DRIFT)->has_edit, !beyond);
        arena_end(&shop.arena);
    }
}

static void measuring_often_keeps_drift_small(void **state)
{
    (void)state;
    for (double measure = 125; measure <= 126; measure++) {
        Workshop shop;
        open_shop(&shop);
        shop.threads[NAVY].uncertainty = 0.004 / 0.16;
        shop.job.bench.measure = measure; /* 125 turns of 0.004 mm: 0.5 mm, the tolerance */
        Span written = write_source(&shop, "bench { measure: 126 turns }\n", "126 turns");
        shop.job.bench.value_spans[BENCH_MEASURE] = written;
        add_band(&shop, NAVY, 400);
        run(&shop);
        expect_only(&shop, measure > 125 ? "T504" : "");
        if (measure > 125)
            expect_edit(&shop, FINDING_DRIFT, "126 turns", "125 turns");
        arena_end(&shop.arena);
    }
}

/* 20 turns: 20 * sqrt((pi * 10.16)^2 + 0.16^2) = 638.372 mm; 12 tag turns 1.92 mm; free ends 300 mm: 940.29 mm. */
static void need_is_held_against_stock(void **state)
{
    (void)state;
    for (int enough = 0; enough <= 1; enough++) {
        Workshop shop;
        open_shop(&shop);
        shop.threads[NAVY].stock = enough ? 941 : 940;
        shop.threads[NAVY].stock_span = write_source(&shop, "stock: 94 cm\n", "94 cm");
        add_band(&shop, NAVY, 20);
        run(&shop);
        expect_only(&shop, enough ? "" : "T505");
        if (!enough)
            expect_edit(&shop, FINDING_STOCK_SHORT, "94 cm", "95 cm");
        arena_end(&shop.arena);
    }
}

/* Two such pieces, of 940.29 mm each. A stock of 1.9 m with spools of 1 m is a spool and 0.9 m. */
static void pieces_are_cut_in_one_length(void **state)
{
    (void)state;
    static const struct {
        double spool, stock, bought;
        const char *codes;
    } cases[] = {
        {1000, 2000, 0, ""},      {1000, 1900, 1, "T505"}, {1000, 1940.3, 0, ""}, {1000, 0, 2, "T505"},
        {1000, NAN, 2, ""},       {1880, NAN, 2, ""},      {1881, NAN, 1, ""},    {940, 1000, 0, "T505 T506"},
        {NAN, 1880, NAN, "T505"}, {NAN, 1881, NAN, ""},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Workshop shop;
        open_shop(&shop);
        shop.threads[NAVY].stock = cases[i].stock;
        shop.threads[NAVY].spool = cases[i].spool;
        shop.threads[NAVY].stock_span = write_source(&shop, "stock: 94 cm\n", "94 cm");
        shop.threads[NAVY].spool_span = write_source(&shop, "spool: 77 cm\n", "77 cm");
        add_band(&shop, NAVY, 20);
        add_gap(&shop, 2);
        add_band(&shop, NAVY, 20);
        run(&shop);
        expect_only(&shop, cases[i].codes);
        const Supply *supply = &shop.plan->supplies[0];
        assert_true(isnan(cases[i].bought) ? isnan(supply->spools) : supply->spools == cases[i].bought);
        assert_int_equal(supply->too_long, strstr(cases[i].codes, "T506") != NULL ? 2 : 0);
        if (i == 1)
            expect_edit(&shop, FINDING_STOCK_SHORT, "94 cm", "290 cm");
        if (supply->too_long)
            expect_edit(&shop, FINDING_PIECE_BEYOND_SPOOL, "77 cm", "95 cm");
        arena_end(&shop.arena);
    }
}

/* The same statements laid three times: one finding, with the numbers of the worst copy. */
static void copies_give_one_finding(void **state)
{
    (void)state;
    Workshop shop;
    open_shop(&shop);
    add_band(&shop, NAVY, 7);
    add_gap(&shop, 2);
    for (int copy = 0; copy < 2; copy++) {
        shop.items[shop.layer.item_count++] = shop.items[0];
        shop.items[shop.layer.item_count++] = shop.items[1];
    }
    run(&shop);
    expect_only(&shop, "T402");
    assert_int_equal(found(&shop, FINDING_LOOP_TOO_SHORT)->times, 3);
    arena_end(&shop.arena);
}

static void the_worst_copy_speaks_for_all(void **state)
{
    (void)state;
    Workshop shop;
    open_shop(&shop);
    add_band(&shop, NAVY, 5);
    add_fade(&shop, MIST, 4);
    add_band(&shop, MIST, 20);
    add_gap(&shop, 2);
    add_band(&shop, NAVY, 4);
    for (int copy = 1; copy <= 2; copy++)
        shop.items[shop.layer.item_count++] = shop.items[copy];
    run(&shop);
    expect_only(&shop, "T401");
    assert_int_equal(found(&shop, FINDING_NOT_HELD)->times, 2);
    assert_string_equal(found(&shop, FINDING_NOT_HELD)->at.label, "its tag lies under 4 turns; 6 are needed");
    expect_edit(&shop, FINDING_NOT_HELD, "4 turns", "6 turns");
    arena_end(&shop.arena);
}

static void every_page_is_headed_by_its_code(void **state)
{
    (void)state;
    unsigned pages = 0;
    for (int code = 0; code < FINDING_CODE_COUNT; code++) {
        const char *text = explanation((FindingCode)code);
        if (!text)
            continue;
        char head[64];
        snprintf(head, sizeof head, "# %s: ", finding_code_text((FindingCode)code));
        assert_memory_equal(text, head, strlen(head));
        assert_int_equal(text[strlen(text) - 1], '\n');
        pages++;
    }
    assert_true(pages >= 24);
    assert_non_null(strstr(explanation(FINDING_NOT_HELD), "\nFails:\n```lay\nedition 1\n"));
    assert_null(explanation(FINDING_CODE_COUNT));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_band_of_ten_to_twelve_turns_is_held),
        cmocka_unit_test(a_trim_beside_a_long_band_is_held_by_it),
        cmocka_unit_test(a_fade_needs_turns_before_it),
        cmocka_unit_test(all_turns_of_a_wrap_count_and_a_gap_begins_anew),
        cmocka_unit_test(an_expression_is_kept_within_its_mend),
        cmocka_unit_test(without_a_band_to_lengthen_bind_is_lowered),
        cmocka_unit_test(an_inlay_is_set_further_in),
        cmocka_unit_test(an_inlay_without_room_stays),
        cmocka_unit_test(a_wrap_needs_its_final_turns),
        cmocka_unit_test(a_loop_within_a_wrap_needs_turns),
        cmocka_unit_test(a_tag_must_be_held_on_one_side),
        cmocka_unit_test(strands_under_a_turn_are_counted),
        cmocka_unit_test(what_stands_lies_under_the_turns_made_meanwhile),
        cmocka_unit_test(parts_of_turns_are_told_to_a_thousandth),
        cmocka_unit_test(strands_crowd_where_the_blank_is_thin),
        cmocka_unit_test(strands_on_a_thin_tip_crowd),
        cmocka_unit_test(a_long_piece_is_passed_by_hand_only_in_a_change),
        cmocka_unit_test(a_hand_is_mended_as_far_as_it_goes),
        cmocka_unit_test(a_steep_ramp_slips),
        cmocka_unit_test(threads_of_a_fade_may_differ_by_a_quarter),
        cmocka_unit_test(preserver_is_for_all_threads_of_a_layer),
        cmocka_unit_test(a_nominal_thread_is_to_be_measured),
        cmocka_unit_test(drift_adds_up_over_the_turns_of_one_thread),
        cmocka_unit_test(a_bench_is_written_behind_the_edition),
        cmocka_unit_test(different_threads_drift_independently),
        cmocka_unit_test(the_thread_that_drifts_most_is_to_be_measured),
        cmocka_unit_test(where_it_is_measured_drift_begins_anew),
        cmocka_unit_test(measuring_is_advised_where_it_tells_something),
        cmocka_unit_test(no_tolerance_is_advised_beyond_its_range),
        cmocka_unit_test(measuring_often_keeps_drift_small),
        cmocka_unit_test(need_is_held_against_stock),
        cmocka_unit_test(pieces_are_cut_in_one_length),
        cmocka_unit_test(copies_give_one_finding),
        cmocka_unit_test(the_worst_copy_speaks_for_all),
        cmocka_unit_test(every_page_is_headed_by_its_code),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
