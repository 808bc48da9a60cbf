/* Cards: what their lines say of every run, what is cut for a place, and when two feet share one. Turns are half a
 * millimetre, so that places are reckoned by hand; which piece ends how, too. */
#include "made_sheet.h"

#include "words/card.h"

#include <stdio.h>

typedef struct WantedLine {
    const char *count, *thread, *end, *how;
    const char *measures; /* "after turn 12 6.0 ± 0.1 mm; 12.0 ± 0.2 mm" */
} WantedLine;

enum { MOST_LINES = 8, MOST_CUTS = 6 };

typedef struct CardCase {
    const char *body, *options;
    const char *heading; /* of the one layer */
    const char *cuts[MOST_CUTS];
    WantedLine lines[MOST_LINES];
} CardCase;

/* Widths give or take what counts (1 %, once a thread) and packing (1 % of all) leave unsure. */
static const CardCase cases[] = {
    {"band 30 turns of navy",
     "measure: 12 turns",
     "Layer 1 of 1, wrap: 30 turns, 15.0 mm wide",
     {"navy 1, spool", "loop, of strong line"},
     {{"30", "navy", "15 mm", "starts over its tag, pulled through under the last 8",
       "after turn 12 6.0 ± 0.1 mm; after turn 24 12.0 ± 0.2 mm; 15.0 ± 0.2 mm"}}},
    /* The inlay's end has no six turns of its own band before the next inlay: it does not need them. */
    {"band 40 turns of navy { inlay 2 turns of mist at: 1/4  inlay 2 turns of mist at: 3/4 }",
     "",
     "Layer 1 of 1, wrap: 40 turns, 20.0 mm wide",
     {"navy 1, spool", "mist 1 and 2, cut piece", "loop, of strong line"},
     {{"9", "navy", "4.5 mm", "starts over its tag, on to line 3", ""},
      {"2", "mist", "5.5 mm", "by hand, laid in under 6 of navy, end under the next 6", ""},
      {"18", "navy", "14.5 mm", "from line 1, on to line 5", "after turn 26 13.0 ± 0.2 mm"},
      {"2", "mist", "15.5 mm", "by hand, laid in under 6 of navy, end under the next 6", ""},
      {"9", "navy", "20 mm", "from line 3, pulled through under the last 8", "20.0 ± 0.3 mm"}}},
    /* A short hand: after six turns by hand a spool goes on. */
    {"band 10 turns of navy  fade to mist steps: 2  band 20 turns of mist",
     "hand: 80 cm",
     "Layer 1 of 1, wrap: 36 turns, 18.0 mm wide",
     {"navy 1, spool", "mist 1, cut piece", "mist 2, spool", "loop, of strong line"},
     {{"10", "navy", "5 mm", "starts over its tag, on to line 2", ""},
      {"6", "navy to mist", "8 mm",
       "in 1, out 2; in 2, out 1; mist by hand, laid in under 6 of navy; navy end under the next 6", ""},
      {"20", "mist", "18 mm",
       "first 6 by hand, from line 2, end under the next 6; next 14 laid in under 6 of mist, pulled through under "
       "the last 8",
       "after turn 22 11.0 ± 0.1 mm; 18.0 ± 0.2 mm"}}},
    /* On a bobbin the thread of the fade is the band's, too. */
    {"band 10 turns of navy  fade to mist steps: 2  band 20 turns of mist",
     "hand: 80 cm, bobbins: 1",
     "Layer 1 of 1, wrap: 36 turns, 18.0 mm wide",
     {"mist 1, bobbin", "navy 1, spool", "loop, of strong line"},
     {{"10", "navy", "5 mm", "starts over its tag, on to line 2", ""},
      {"6", "navy to mist", "8 mm",
       "in 1, out 2; in 2, out 1; mist by hand, on a bobbin, laid in under 6 of navy; navy end under the next 6",
       ""},
      {"20", "mist", "18 mm", "from line 2, pulled through under the last 8",
       "after turn 22 11.0 ± 0.1 mm; 18.0 ± 0.2 mm"}}},
    /* Its last turns are made by hand, where a spool takes over. */
    {"band 10 turns of navy  fade to mist steps: 1  band 60 turns of mist  fade to navy steps: 1  band 60 turns of navy",
     "hand: 80 cm, bobbins: 1",
     "Layer 1 of 1, wrap: 134 turns, 67.0 mm wide",
     {"mist 1, bobbin", "navy 1, spool", "navy 2, spool", "loop, of strong line"},
     {{"10", "navy", "5 mm", "starts over its tag, on to line 2", ""},
      {"2", "navy to mist", "6 mm",
       "in 1, out 1; mist by hand, on a bobbin, laid in under 6 of navy; navy end under the next 6", ""},
      {"60", "mist", "36 mm", "the last 6 by hand, from line 2, on to line 4", ""},
      {"2", "mist to navy", "37 mm",
       "in 1, out 1; navy laid in under 6 of mist; mist by hand, end under the next 6", ""},
      {"60", "navy", "67 mm", "from line 4, pulled through under the last 8",
       "after turn 120 60.0 ± 0.7 mm; 67.0 ± 0.8 mm"}}},
    /* Of its turns in the fade the first is led by hand, until the old thread has ended. */
    {"band 10 turns of navy  fade to mist runs: [in 0 out 2, in 1 out 1, in 8 out 0]  band 10 turns of mist",
     "",
     "Layer 1 of 1, wrap: 32 turns, 16.0 mm wide",
     {"navy 1, spool", "mist 1, cut piece", "loop, of strong line"},
     {{"10", "navy", "5 mm", "starts over its tag, on to line 2", ""},
      {"12", "navy to mist", "11 mm",
       "out 2; in 1, out 1; in 8; navy end under the next 6; mist 1 by hand, laid in under 6 of navy", ""},
      {"10", "mist", "16 mm", "from line 2, pulled through under the last 8", "16.0 ± 0.2 mm"}}},
    /* What begins beyond the mark says where; a place is measured from its mark, a width from where the layer
       begins. */
    {"over offset: 3 mm { band 20 turns of navy }",
     "",
     "Layer 1 of 1, wrap: 20 turns, 10.0 mm wide, begins 3 mm from the mark",
     {"navy 1, spool", "loop, of strong line"},
     {{"20", "navy", "13 mm", "starts over its tag, pulled through under the last 8", "10.0 ± 0.1 mm"}}},
    /* The other way round the thread that was written as the new one goes out; three steps alike are told once. */
    {"mirror { band 10 turns of navy  fade to mist runs: [in 1 out 2, in 1 out 2, in 3 out 1] band 20 turns of mist }",
     "hand: 5 m",
     "Layer 1 of 1, wrap: 40 turns, 20.0 mm wide",
     {"mist 1, spool", "navy 1, cut piece", "loop, of strong line"},
     {{"20", "mist", "10 mm", "starts over its tag, on to line 2", "10.0 ± 0.1 mm"},
      {"10", "mist to navy", "15 mm",
       "in 1, out 3; in 2, out 1 (2 times); navy by hand, laid in under 6 of mist; mist end under the next 6", ""},
      {"10", "navy", "20 mm", "from line 2, pulled through under the last 8", "20.0 ± 0.2 mm"}}},
    {"gap 2 mm  band 8 turns of navy  band 20 turns of [mist, spacer(line)]  band 10 turns of navy",
     "",
     "Layer 1 of 1, wrap: 38 turns, 31.0 mm wide",
     {"navy 1, spool", "mist 1, spool", "line 1, spool, as a spacer", "navy 2, spool", "loop, of strong line"},
     {{"2.0 mm", "gap", "2 mm", "", ""},
      {"8", "navy", "6 mm", "starts over its tag, end under the next 6", ""},
      {"20", "mist and spacer line together", "26 mm",
       "mist starts over its tag, end under the next 6; spacer line starts over its tag, taken off at the end",
       "after turn 21 19.0 ± 0.2 mm"},
      {"10", "navy", "31 mm", "starts over its tag, pulled through under the last 8", "31.0 ± 0.3 mm"}}},
    {"band 8 turns of navy  band 20 turns of [mist, line]",
     "",
     "Layer 1 of 1, wrap: 28 turns, 24.0 mm wide",
     {"navy 1, spool", "mist 1, spool", "line 1, spool", "2 loops, of strong line"},
     {{"8", "navy", "4 mm", "starts over its tag, end under the next 6", ""},
      {"20", "mist and line together", "24 mm", "each starts over its tag, pulled through under the last 8",
       "24.0 ± 0.3 mm"}}},
};

static Made made_for(const CardCase *one)
{
    char text[2048];
    snprintf(text, sizeof text,
             "edition 1\nthread navy { turns: 20 per cm, colour: #22346b }\n"
             "thread mist { turns: 20 per cm, colour: #9db8d6 }\nthread line { turns: 20 per cm }\n"
             "bench { units: mm, %s }\n"
             "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\nrod \"R\" on tube { at 30 cm { %s } }\n",
             one->options, one->body);
    return make(text);
}

static void hold_line(const CardLine *line, uint32_t number, const WantedLine *wanted)
{
    char measures[256] = "";
    assert_int_equal(line->number, number);
    assert_string_equal(line->count, wanted->count);
    assert_string_equal(line->thread, wanted->thread);
    assert_string_equal(line->end, wanted->end);
    assert_string_equal(line->how, wanted->how);
    for (uint32_t i = 0; i < line->measures.count; i++) {
        const CardMeasure *measure = &line->measures.items[i];
        size_t length = strlen(measures);
        snprintf(measures + length, sizeof measures - length, "%s%s%s%s", i ? "; " : "", measure->after,
                 *measure->after ? " " : "", measure->width);
    }
    assert_string_equal(measures, wanted->measures);
}

static void hold_card(const Card *card, const CardCase *wanted)
{
    uint32_t cuts = 0, lines = 0;
    assert_string_equal(card->heading, "300 mm from the butt, toward the tip");
    assert_string_equal(card->marks[0], "Mark 300 mm from the butt, work toward the tip, to your right.");
    assert_int_equal(card->place_count, 1);
    assert_int_equal(card->layer_count, 1);
    assert_string_equal(card->layers[0].heading, wanted->heading);
    for (; cuts < MOST_CUTS && wanted->cuts[cuts]; cuts++) {
        char words[128];
        snprintf(words, sizeof words, "%s, %s", card->cuts[cuts].labels, card->cuts[cuts].what);
        assert_string_equal(words, wanted->cuts[cuts]);
    }
    assert_int_equal(card->cut_count, cuts);
    for (; lines < MOST_LINES && wanted->lines[lines].count; lines++)
        hold_line(&card->layers[0].lines[lines], lines + 1, &wanted->lines[lines]);
    assert_int_equal(card->layers[0].line_count, lines);
}

static void test_lines_and_cuts(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        Made made = made_for(&cases[i]);
        assert_int_equal(made.sheet->rods[0].card_count, 1);
        hold_card(&made.sheet->rods[0].cards[0], &cases[i]);
        turnlay_free(made.compilation);
    }
}

static Made made_on_guide(const char *guide, const char *body)
{
    char text[2048];
    snprintf(text, sizeof text,
             "edition 1\nthread navy { turns: 20 per cm, colour: #22346b }\n"
             "thread mist { turns: 20 per cm, colour: #9db8d6 }\nbench { units: mm, seal: yes }\n"
             "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
             "guide ring { %s, gap: 6 mm, width: 2 mm, height: 0.8 mm, ramp: 6 mm, before: 5 mm }\n"
             "rod \"R\" on tube { at 40 cm guide: ring { %s } at 60 cm { band 20 turns of navy } }\n",
             guide, body);
    return make(text);
}

/* Two feet wound alike share a card, with both marks, and what is cut for both; feet that differ do not. */
static void test_feet(void **state)
{
    (void)state;
    Made made = made_on_guide("foot: [14 mm, 14 mm]", "band 30 turns of navy");
    const SheetRod *rod = &made.sheet->rods[0];
    assert_int_equal(rod->card_count, 2);
    assert_string_equal(rod->cards[0].heading, "ring at 400 mm from the butt, both feet");
    assert_int_equal(rod->cards[0].place_count, 2);
    assert_int_equal(rod->cards[0].place, 0);
    assert_string_equal(rod->cards[0].marks[0],
                        "Mark 378 mm from the butt, work toward the tip, to your right; the foot begins 5 mm from "
                        "the mark, the ring stands 22 mm from it.");
    assert_string_equal(rod->cards[0].marks[1],
                        "Mark 422 mm from the butt, work toward the butt, to your left; the foot begins 5 mm from "
                        "the mark, the ring stands 22 mm from it.");
    assert_says(rod->cards[0].before,
                "Dress the feet of ring. Tape ring in place by the inner halves of both feet.");
    assert_string_equal(rod->cards[0].cuts[0].labels, "navy 1");
    assert_string_equal(rod->cards[0].cuts[1].labels, "navy 2");
    assert_string_equal(rod->cards[0].cuts[2].labels, "loop");
    assert_int_equal(rod->cards[0].cut_count, 3);
    for (int foot = 0; foot < 2; foot++)
        assert_int_equal(rod->parts[rod->cards[0].layers[0].parts[foot]].place, foot);
    assert_string_equal(rod->cards[1].heading, "600 mm from the butt, toward the tip");
    assert_int_equal(rod->cards[1].cut_count, 2);
    assert_string_equal(rod->cards[1].cuts[0].labels, "navy 3");
    turnlay_free(made.compilation);

    made = made_on_guide("foot: [14 mm, 16 mm]", "band fill of navy");
    rod = &made.sheet->rods[0];
    assert_int_equal(rod->card_count, 3);
    assert_string_equal(rod->cards[0].heading, "ring at 400 mm from the butt, butt-side foot");
    assert_string_equal(rod->cards[1].heading, "ring at 400 mm from the butt, tip-side foot");
    turnlay_free(made.compilation);
}

/* What is done between the layers stands behind the one before. */
static void test_between_layers(void **state)
{
    (void)state;
    Made made = made_on_guide("foot: 14 mm", "under { band 20 turns of navy } over { band 30 turns of mist }");
    const Card *card = &made.sheet->rods[0].cards[0];
    assert_int_equal(card->layer_count, 2);
    assert_string_equal(card->layers[0].heading, "Layer 1 of 2, underwrap: 20 turns, 10.0 mm wide");
    assert_string_equal(card->layers[1].heading, "Layer 2 of 2, overwrap: 30 turns, 15.0 mm wide");
    assert_says(card->layers[0].after, "Seal this layer");
    assert_says(card->layers[0].after, ". Tape ring in place");
    assert_string_equal(card->layers[1].after, "");
    turnlay_free(made.compilation);
}

/* With something below them, too: the guide goes on between the two layers of both, and what is cut for the first
 * layer of the second foot comes before that of the second layer of the first. */
static void test_feet_with_layers_below(void **state)
{
    (void)state;
    Made made =
        made_on_guide("foot: [14 mm, 14 mm]", "under { band 20 turns of navy } over { band 30 turns of mist }");
    const SheetRod *rod = &made.sheet->rods[0];
    assert_int_equal(rod->card_count, 2);
    const Card *card = &rod->cards[0];
    assert_string_equal(card->heading, "ring at 400 mm from the butt, both feet");
    assert_int_equal(card->layer_count, 2);
    assert_string_equal(
        card->layers[0].after,
        "Seal this layer and let it cure. Wind layer 1 of the other foot, too, before ring goes on. "
        "Tape ring in place by the inner halves of both feet.");
    assert_string_equal(card->layers[1].after, "");
    static const char *const cuts[] = {"navy 1", "navy 2", "mist 1", "mist 2", "loop"};
    assert_int_equal(card->cut_count, 5);
    for (int i = 0; i < 5; i++)
        assert_string_equal(card->cuts[i].labels, cuts[i]);
    for (int foot = 0; foot < 2; foot++)
        for (uint32_t layer = 0; layer < 2; layer++) {
            const SheetPart *part = &rod->parts[card->layers[layer].parts[foot]];
            assert_int_equal(part->place, foot);
            assert_int_equal(part->layer, layer);
        }
    assert_string_equal(rod->cards[1].cuts[0].labels, "navy 3");
    turnlay_free(made.compilation);
}

#define DRESSED "Dress the feet of ring."
#define TAPED "Tape ring in place by the inner halves of both feet."
#define SEALED "Seal this layer and let it cure."
#define ONE_BELOW "Wind layer 1 of the other foot, too, before ring goes on."
#define TWO_BELOW "Wind layers 1 to 2 of the other foot, too, before ring goes on."
#define BELOW "under { band 20 turns of navy } "
#define OVER "over { band 30 turns of mist } "

/* Each foot's card says what lies below the other one, where its own last layer before the guide is done. */
static void test_cards_of_each_foot(void **state)
{
    (void)state;
    static const struct {
        const char *butt, *tip;
        struct {
            const char *before, *after[3];
        } cards[2];
    } feet[] = {
        {BELOW OVER,
         BELOW OVER "over { band 26 turns of navy } ",
         {{DRESSED, {SEALED " " ONE_BELOW " " TAPED, ""}}, {"", {SEALED " " ONE_BELOW, SEALED, ""}}}},
        {BELOW BELOW OVER,
         BELOW OVER,
         {{DRESSED, {SEALED, SEALED " " ONE_BELOW " " TAPED, ""}}, {"", {SEALED " " TWO_BELOW, ""}}}},
        {OVER, BELOW OVER, {{ONE_BELOW " " DRESSED " " TAPED, {""}}, {"", {SEALED, ""}}}},
        {BELOW OVER, OVER, {{DRESSED, {SEALED " " TAPED, ""}}, {ONE_BELOW, {""}}}},
        /* The same lines in layers of other names. */
        {BELOW OVER,
         "over { band 20 turns of navy } " OVER,
         {{DRESSED, {SEALED " " TAPED, ""}}, {ONE_BELOW, {SEALED, ""}}}},
        {OVER, OVER OVER, {{DRESSED " " TAPED, {""}}, {"", {SEALED, ""}}}},
        {BELOW, BELOW OVER, {{DRESSED, {""}}, {"", {SEALED " " ONE_BELOW " " TAPED, ""}}}},
    };
    for (size_t i = 0; i < sizeof feet / sizeof *feet; i++) {
        char text[1000];
        snprintf(text, sizeof text,
                 "edition 1\nthread navy { turns: 20 per cm }\nthread mist { turns: 20 per cm }\n"
                 "bench { units: mm, seal: yes }\nblank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
                 "guide ring { foot: [14 mm, 14 mm], gap: 6 mm, before: 5 mm }\n"
                 "rod \"R\" on tube { series { at 40 cm: ring  if here.diameter > 8.8 mm { %s} else { %s} } }\n",
                 feet[i].butt, feet[i].tip);
        Made made = make(text);
        assert_int_equal(made.sheet->rods[0].card_count, 2);
        for (int foot = 0; foot < 2; foot++) {
            const Card *card = &made.sheet->rods[0].cards[foot];
            if (strcmp(card->before, feet[i].cards[foot].before) != 0)
                fail_msg("case %zu, foot %d: before: %s", i, foot, card->before);
            for (uint32_t l = 0; l < card->layer_count; l++)
                if (strcmp(card->layers[l].after, feet[i].cards[foot].after[l]) != 0)
                    fail_msg("case %zu, foot %d, layer %u: %s", i, foot, (unsigned)l, card->layers[l].after);
        }
        turnlay_free(made.compilation);
    }
}

/* Equal pieces stand on one line, with their numbers. */
static void test_numbers_of_pieces(void **state)
{
    (void)state;
    Made made =
        make("edition 1\nthread navy { turns: 20 per cm }\nthread mist { turns: 20 per cm }\n"
             "bench { units: mm, carry: 1 turn }\nblank tube { at 0 mm: 10 mm  at 100 cm: 10 mm }\n"
             "rod \"R\" on tube { at 30 cm { band 90 turns of navy {\n"
             "inlay 2 turns of mist at: 1/8  inlay 3 turns of mist at: 2/8  inlay 2 turns of mist at: 3/8\n"
             "inlay 2 turns of mist at: 4/8  inlay 2 turns of mist at: 5/8  inlay 3 turns of mist at: 6/8\n"
             "inlay 2 turns of mist at: 7/8 } } }\n");
    const Card *card = &made.sheet->rods[0].cards[0];
    assert_int_equal(card->cut_count, 4);
    assert_string_equal(card->cuts[1].labels, "mist 1, 3 to 5 and 7");
    assert_int_equal(card->cuts[1].count, 5);
    assert_string_equal(card->cuts[2].labels, "mist 2 and 6");
    assert_int_equal(card->cuts[2].count, 2);
    turnlay_free(made.compilation);
}

/* A thread that is cut from its spool to be wrapped by hand is so on its card where that happens. */
static void test_cut_from_its_spool(void **state)
{
    (void)state;
    Made made =
        make("edition 1\nthread navy { turns: 20 per cm }\nthread mist { turns: 20 per cm }\n"
             "bench { units: mm }\nblank tube { at 0 mm: 10 mm  at 100 cm: 10 mm }\n"
             "rod \"R\" on tube { at 30 cm { band 60 turns of navy  fade to mist steps: 3  band 60 turns of "
             "mist } }\n");
    const CardLine *lines = made.sheet->rods[0].cards[0].layers[0].lines;
    assert_says(lines[0].how, "starts over its tag, cut off leaving ");
    assert_says(lines[0].how, ", on to line 2");
    assert_string_equal(lines[1].how,
                        "in 1, out 3; in 2, out 2; in 3, out 1; mist laid in under 6 of navy; navy by "
                        "hand, end under the next 6");
    assert_string_equal(lines[2].how, "from line 2, pulled through under the last 8");
    turnlay_free(made.compilation);
}

/* Passes of a crosswrap by the strands, in the order in which they are laid; its end bands as other lines. */
static void test_crosswraps(void **state)
{
    (void)state;
    Made made =
        make("edition 1\nthread navy { turns: 20 per cm }\nthread mist { turns: 20 per cm }\n"
             "bench { units: mm }\nblank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
             "rod \"R\" on tube { at 30 cm length: 150 mm { chevron crossings: 3 starts: 2 ends: 10 turns of "
             "navy { strand 2 of mist  strand 1 of navy } } }\n");
    const CardLayer *layer = &made.sheet->rods[0].cards[0].layers[0];
    assert_int_equal(layer->line_count, 3);
    assert_string_equal(layer->lines[0].how, "starts over its tag, pulled through under the last 8");
    assert_string_equal(layer->lines[1].count, "6 passes");
    assert_string_equal(layer->lines[1].thread, "chevron");
    assert_string_equal(
        layer->lines[1].how,
        "in this order: 1 mist along the marks; 1 mist on the tip side; 1 navy on the tip side; each "
        "for all 2 starts before the next; each out and back");
    assert_string_equal(layer->lines[2].end, "150 mm");
    assert_says(layer->setting,
                "Wound counter-clockwise, seen from the butt; 2 crossing lines, at 0 deg (12 o'clock) "
                "and 180 deg (6 o'clock): 3 crossings, ");
    assert_says(layer->setting, "; pass 1 out from ");
    assert_says(layer->setting, "; pass 2 out from ");
    assert_keeps_quiet(layer->setting, "pass 3");
    assert_says(layer->setting, "The strands first, then the end bands over their ends.");
    assert_says(layer->after, "Cut all strands at both end bands and take the tape off.");
    turnlay_free(made.compilation);
    made = make("edition 1\nthread navy { turns: 100 per cm }\nthread mist { turns: 100 per cm }\n"
                "blank tube { at 0 mm: 12 mm  at 100 cm: 12 mm }\n"
                "rod \"Wound\" on tube { at 10 cm length: 63.6 mm {\n"
                "    spiral turns: 3 turns ends: 12 turns of navy { strand 2 of mist } } }\n");
    assert_string_equal(made.sheet->rods[0].cards[0].layers[0].lines[1].how,
                        "in this order: 1 mist first; 1 mist on the tip side");
    turnlay_free(made.compilation);
}

/* On a screen: the strip lies as the blank does, a fade's swatch is half and half, every width has its room. */
static void test_cards_of_the_page(void **state)
{
    (void)state;
    for (int tip_left = 0; tip_left < 2; tip_left++) {
        char text[512];
        snprintf(text, sizeof text,
                 "edition 1\nthread navy { turns: 20 per cm, colour: #22346b }\n"
                 "thread mist { turns: 20 per cm, colour: #9db8d6 }\n"
                 "bench { left: %s, measure: 25 turns }\nblank tube { at 0 mm: 12 mm  at 100 cm: 12 mm }\n"
                 "rod \"R\" on tube { at 20 cm { band 40 turns of navy\n"
                 "    fade to mist runs: [in 1 out 1, in 2 out 0]  band 36 turns of mist } }\n",
                 tip_left ? "tip" : "butt");
        Made made = make(text);
        const CardLayer *layer = &made.sheet->rods[0].cards[0].layers[0];
        Buffer out;
        buffer_start(&out, &made.compilation->arena);
        emit_sheet_html(&out, made.sheet, made.compilation->plan, 1);
        buffer_put(&out, "", 1);
        /* 40 of 80 turns. */
        assert_says(out.bytes, tip_left ? "<rect x=\"500\" y=\"0\" width=\"500\" height=\"56\" fill=\"#22346b\"/>"
                                        : "<rect x=\"0\" y=\"0\" width=\"500\" height=\"56\" fill=\"#22346b\"/>");
        assert_says(out.bytes, "<rect x=\"0\" y=\"0\" width=\"12\" height=\"14\" fill=\"#22346b\"/>"
                               "<rect x=\"12\" y=\"0\" width=\"12\" height=\"14\" fill=\"#9db8d6\"/></svg>");
        uint32_t wanted = 0, shown = 0;
        for (uint32_t i = 0; i < layer->line_count; i++)
            wanted += layer->lines[i].measures.count;
        for (const char *at = out.bytes; (at = strstr(at, " class=\"line-measure\">")); at++)
            shown++;
        assert_int_equal(shown, wanted);
        assert_says(out.bytes, "<p class=\"line-measure\">after turn 25: should be ");
        turnlay_free(made.compilation);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_lines_and_cuts),     cmocka_unit_test(test_feet),
        cmocka_unit_test(test_between_layers),     cmocka_unit_test(test_feet_with_layers_below),
        cmocka_unit_test(test_cards_of_each_foot), cmocka_unit_test(test_crosswraps),
        cmocka_unit_test(test_cut_from_its_spool), cmocka_unit_test(test_numbers_of_pieces),
        cmocka_unit_test(test_cards_of_the_page)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
