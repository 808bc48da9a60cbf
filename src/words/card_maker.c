/* Cards, one a place: what is done there, gathered from the actions' parts. */
#include "words/card_maker.h"

#include "base/halfway.h"
#include "base/sort.h"
#include "base/visible.h"
#include "plan/plan_sums.h"
#include "words/trade_words.h"

/* A part that is about a place, and its windings, if it is about a layer. */
typedef struct PartOfPlace {
    uint32_t part, first_winding, winding_count;
} PartOfPlace;

/* The rod's parts and pieces to cut, place by place, and where they have been read up to. */
typedef struct CardReading {
    SheetMaker *maker;
    const SheetRod *sheet;
    const PartOfPlace *parts;
    uint32_t part_count, part;
    SheetCut *cuts;
    uint32_t cut_count, cut;
} CardReading;

static const SheetPart *next_part(const CardReading *reading)
{
    return reading->part < reading->part_count ? &reading->sheet->parts[reading->parts[reading->part].part] : NULL;
}

/* --- place by place --- */

/* A part's windings follow those of the layers before it. */
static PartOfPlace part_of_place(const SheetMaker *maker, const SheetRod *sheet, uint32_t part, uint32_t *winding)
{
    const PlannedRod *rod = maker->rod->rod;
    const SheetPart *about = &sheet->parts[part];
    PartOfPlace made = {part, *winding, 0};
    while (*winding < rod->winding_count && rod->windings[*winding].place == about->place
           && rod->windings[*winding].layer == about->layer)
        ++*winding;
    made.winding_count = *winding - made.first_winding;
    return made;
}

static void find_parts(CardReading *reading)
{
    Arena *arena = reading->maker->arena;
    const SheetRod *sheet = reading->sheet;
    uint32_t places = reading->maker->rod->rod->place_count, winding = 0;
    PartOfPlace *parts = arena_take_many(arena, sheet->part_count, sizeof *parts);
    uint32_t *keys = arena_take_many(arena, sheet->part_count, sizeof *keys);
    for (uint32_t i = 0; i < sheet->part_count; i++) {
        parts[i] = part_of_place(reading->maker, sheet, i, &winding);
        bool of_place = sheet->parts[i].place != WHOLE_ROD;
        keys[i] = of_place ? sheet->parts[i].place : places;
        reading->part_count += of_place;
    }
    const uint32_t *order = numbers_by_key(arena, keys, sheet->part_count, places + 1);
    PartOfPlace *ordered = arena_take_many(arena, reading->part_count, sizeof *ordered);
    for (uint32_t i = 0; i < reading->part_count; i++)
        ordered[i] = parts[order[i]];
    reading->parts = ordered;
}

/* Loops come last of the rod's cuts, and belong to no place. */
static void find_cuts(CardReading *reading)
{
    Arena *arena = reading->maker->arena;
    const SheetRod *sheet = reading->sheet;
    uint32_t *keys = arena_take_many(arena, sheet->cut_count, sizeof *keys),
             places = reading->maker->rod->rod->place_count;
    for (uint32_t i = 0; i < sheet->cut_count; i++)
        keys[i] = sheet->cuts[i].loop ? places : sheet->cuts[i].place;
    const uint32_t *order = numbers_by_key(arena, keys, sheet->cut_count, places + 1);
    reading->cuts = arena_take_many(arena, sheet->cut_count, sizeof *reading->cuts);
    for (uint32_t i = 0; i < sheet->cut_count; i++) {
        reading->cuts[i] = sheet->cuts[order[i]];
        reading->cut_count += !reading->cuts[i].loop;
    }
}

/* --- a layer --- */

static const char *layer_heading(SheetMaker *maker, const PlannedPlace *place, uint32_t index)
{
    const PlannedLayer *layer = &place->layers[index];
    buffer_format(&maker->words, "Layer %u of %u, %s", (unsigned)index + 1, (unsigned)place->layer_count,
                  layer_label(place, index));
    buffer_format(&maker->words, layer->turns == 1 ? ": %llu turn, " : ": %llu turns, ",
                  (unsigned long long)layer->turns);
    maker_callipers(maker, layer->width);
    buffer_text(&maker->words, " wide");
    double begins = from_datum(place, layer->start);
    if (!reads_nothing(maker->bench->rule, begins)) {
        buffer_text(&maker->words, ", begins ");
        maker_from_mark(maker, begins);
    }
    return maker_take(maker);
}

/* Kinds of action that a card names as the sheet does. */
static const bool is_named[ACTION_KIND_COUNT] = {
    [ACTION_DRESS_FOOT] = true, [ACTION_TAPE_GUIDE] = true, [ACTION_BIND_RING] = true,
    [ACTION_SEAL] = true,       [ACTION_HOLD_ENDS] = true,  [ACTION_TAKE_ENDS] = true};

/* "Dress the feet of ring16. Tape ring16 in place by both feet." of such actions in the part; and what words hold
 * already. */
static void put_named(CardReading *reading, const SheetPart *part)
{
    for (uint32_t i = part->first; i < part->first + part->count; i++)
        if (is_named[reading->sheet->actions[i].action->kind]) {
            Buffer *words = &reading->maker->words;
            buffer_format(words, "%s%s.", words->length ? " " : "", reading->sheet->actions[i].says);
        }
}

static const PlannedPlace *other_foot(const PlannedRod *rod, const PlannedPlace *foot)
{
    if (foot->foot < 0)
        return NULL;
    for (int way = -1; way <= 1; way += 2) {
        const PlannedPlace *beside = foot + way;
        if (beside >= rod->places && beside < rod->places + rod->place_count && beside->place == foot->place)
            return beside;
    }
    return NULL;
}

/* Behind so many of the foot's layers the guide goes on, and what lies below the other foot is wound by then. */
static void put_other_foot(SheetMaker *maker, const PlannedPlace *foot, uint32_t layers)
{
    const PlannedPlace *other = other_foot(maker->rod->rod, foot);
    uint32_t below = other ? layers_below(other) : 0;
    if (!below || layers != layers_below(foot) || layers == foot->layer_count)
        return;
    Buffer *words = &maker->words;
    buffer_text(words, words->length ? " Wind layer" : "Wind layer");
    buffer_format(words, below == 1 ? " %u" : "s 1 to %u", (unsigned)below);
    buffer_format(words, " of the other foot, too, before %s goes on.",
                  visible(maker->arena, foot->place->guide->name->bytes));
}

/* The part at hand is about a layer. Behind it may stand parts about what is done before the next. */
static void make_layer(CardReading *reading, Card *card)
{
    const SheetPart *part = next_part(reading);
    const PlannedPlace *place = &reading->maker->rod->rod->places[part->place];
    CardLayer *layer = &card->layers[card->layer_count++];
    const PartOfPlace *windings = &reading->parts[reading->part++];
    layer->parts[0] = windings->part;
    layer->heading = layer_heading(reading->maker, place, part->layer);
    layer->setting = "";
    card_lines(reading->maker, part, windings->first_winding, windings->winding_count, layer);
    if (place->layers[part->layer].crosswrap)
        card_crosswrap(reading->maker, part, layer);
    put_named(reading, part);
    put_other_foot(reading->maker, place, part->layer + 1);
    for (const SheetPart *next;
         (next = next_part(reading)) && next->place == part->place && next->layer == WHOLE_ROD; reading->part++)
        put_named(reading, next);
    layer->after = maker_take(reading->maker);
}

/* --- a place --- */

/* "Mark 604.50 mm from the butt, work toward the tip, to your right; the foot begins 4 mm from the mark,
 * the ring stands 25.5 mm from the mark." */
static const char *mark_words(SheetMaker *maker, const PlannedPlace *place)
{
    buffer_text(&maker->words, "Mark ");
    put_from_end(maker, place, place->start);
    buffer_format(&maker->words, ", work toward the %s, to your %s", toward_word(place->direction),
                  side_word(maker, place->direction));
    if (place->foot >= 0) {
        buffer_text(&maker->words, "; the foot begins ");
        maker_from_mark(maker, from_datum(place, place->foot_tip));
        buffer_text(&maker->words, ", the ring stands ");
        maker_from(maker, from_datum(place, place->place->mark), "it");
    }
    if (maker->stands_round) {
        buffer_format(&maker->words, "; %s ", place->foot >= 0 ? "the ring" : "it stands");
        put_angle(maker, place);
    }
    buffer_text(&maker->words, ".");
    return maker_take(maker);
}

/* As many as lie at once in the parts from `first` up to the one at hand. */
static uint32_t loops_at_once(const CardReading *reading, uint32_t first)
{
    uint32_t lying = 0, most = 0;
    for (uint32_t p = first; p < reading->part; p++) {
        const SheetPart *part = &reading->sheet->parts[reading->parts[p].part];
        for (uint32_t i = part->first; i < part->first + part->count; i++) {
            ActionKind kind = reading->sheet->actions[i].action->kind;
            lying += kind == ACTION_LAY_LOOP;
            lying -= kind == ACTION_PULL_THROUGH;
            most = lying > most ? lying : most;
        }
    }
    return most;
}

/* Of the same length on the whole rod: each serves again and again. */
static void add_loops(CardReading *reading, Card *card)
{
    const BenchRod *bench = reading->maker->rod;
    if (!card->loops)
        return;
    const Cut *cut = &bench->cuts[bench->cut_count - 1]; /* loops come last */
    CutLine *made = &card->cuts[card->cut_count++];
    *made = (CutLine){.labels = card->loops == 1
                                    ? "loop"
                                    : text_format(reading->maker->arena, "%u loops", (unsigned)card->loops),
                      .what = "of strong line",
                      .count = card->loops,
                      .colour = NO_COLOUR,
                      .first_action = cut->action};
    maker_cut(reading->maker, cut->length);
    made->length = maker_take(reading->maker);
}

static void make_cuts(CardReading *reading, Card *card)
{
    uint32_t first = reading->cut;
    while (reading->cut < reading->cut_count
           && reading->cuts[reading->cut].place < card->place + card->place_count)
        reading->cut++;
    card->cuts = cut_lines(reading->maker->arena, reading->cuts + first, reading->cut - first, &card->cut_count);
    add_loops(reading, card);
}

/* The part at hand is the first that is about a place. */
static void make_card(CardReading *reading, Card *card)
{
    SheetMaker *maker = reading->maker;
    const SheetPart *first = next_part(reading);
    const PlannedRod *rod = maker->rod->rod;
    const PlannedPlace *place = &rod->places[first->place];
    uint32_t first_part = reading->part;
    *card = (Card){.place = first->place, .place_count = 1};
    card->heading = visible(maker->arena, place_label(maker->arena, maker->plan->job, rod->rod, place));
    card->layers = arena_take_many(maker->arena, place->layer_count, sizeof *card->layers);
    put_other_foot(maker, place, 0);
    for (const SheetPart *part;
         (part = next_part(reading)) && part->place == first->place && part->layer == WHOLE_ROD; reading->part++)
        put_named(reading, part);
    card->before = maker_take(maker);
    card->marks[0] = mark_words(maker, place);
    for (const SheetPart *part; (part = next_part(reading)) && part->place == first->place;)
        make_layer(reading, card);
    card->loops = loops_at_once(reading, first_part);
}

/* --- feet that are wound alike --- */

/* What is done for both feet stands with the first, behind what is done for itself. */
static bool same_lines(const CardLayer *a, const CardLayer *b)
{
    if (a->line_count != b->line_count || strcmp(a->heading, b->heading) || strcmp(a->setting, b->setting)
        || strncmp(a->after, b->after, strlen(b->after)))
        return false;
    for (uint32_t i = 0; i < a->line_count; i++) {
        const CardLine *one = &a->lines[i], *other = &b->lines[i];
        if (strcmp(one->count, other->count) || strcmp(one->thread, other->thread) || strcmp(one->how, other->how)
            || strcmp(one->end, other->end) || one->measures.count != other->measures.count)
            return false;
        for (uint32_t m = 0; m < one->measures.count; m++)
            if (strcmp(one->measures.items[m].after, other->measures.items[m].after)
                || strcmp(one->measures.items[m].width, other->measures.items[m].width))
                return false;
    }
    return true;
}

/* Two feet of one guide, the same work the other way round. */
static bool feet_alike(const PlannedRod *rod, const Card *a, const Card *b)
{
    if (a->place_count > 1 || rod->places[a->place].foot < 0
        || rod->places[a->place].place != rod->places[b->place].place || a->layer_count != b->layer_count)
        return false;
    for (uint32_t i = 0; i < a->layer_count; i++)
        if (!same_lines(&a->layers[i], &b->layers[i]))
            return false;
    return true;
}

static void share_card(SheetMaker *maker, Card *card, const Card *other)
{
    const PlannedRod *rod = maker->rod->rod;
    const PlannedPlace *place = &rod->places[card->place];
    card->heading =
        text_format(maker->arena, "%s at %s, both feet", visible(maker->arena, place->place->guide->name->bytes),
                    place_mark(maker->arena, maker->plan->job, rod->rod, place));
    card->marks[1] = other->marks[0];
    card->place_count = 2;
    for (uint32_t i = 0; i < card->layer_count; i++)
        card->layers[i].parts[1] = other->layers[i].parts[0];
}

void sheet_cards(SheetMaker *maker, SheetRod *sheet)
{
    CardReading reading = {.maker = maker, .sheet = sheet};
    sheet->cards = arena_take_many(maker->arena, maker->rod->rod->place_count, sizeof *sheet->cards);
    find_parts(&reading);
    find_cuts(&reading);
    while (next_part(&reading)) {
        Card card;
        make_card(&reading, &card);
        Card *last = sheet->card_count ? &sheet->cards[sheet->card_count - 1] : NULL;
        if (last && feet_alike(maker->rod->rod, last, &card))
            share_card(maker, last, &card);
        else
            sheet->cards[sheet->card_count++] = card;
    }
    for (uint32_t i = 0; i < sheet->card_count; i++)
        make_cuts(&reading, &sheet->cards[i]);
}

/* Cards come in the order of their places. */
uint32_t card_of_place(const SheetRod *rod, uint32_t place)
{
    uint32_t low = 0, high = rod->card_count;
    while (low + 1 < high) {
        uint32_t middle = halfway(low, high);
        if (rod->cards[middle].place <= place)
            low = middle;
        else
            high = middle;
    }
    return low;
}
