/* Jobs built by hand, for tests of the plan without a text. */
#ifndef TURNLAY_TESTS_PLANNED_H
#define TURNLAY_TESTS_PLANNED_H

#include "plan/plan.h"

#include <math.h>
#include <string.h>

enum { SHOP_THREADS = 4, SHOP_PLACES = 8, SHOP_LAYERS = 8 };

/* One rod on one blank; items and places are added with the functions below. Spans are numbered so that each
 * is another place in the source. */
typedef struct Shop {
    Trap trap;
    Arena arena;
    Texts texts;
    Findings findings;
    Job job;
    Rod rod;
    Blank blank;
    Station stations[3];
    Thread threads[SHOP_THREADS];
    const Thread *thread_list[SHOP_THREADS];
    Place places[SHOP_PLACES];
    uint32_t spans;
} Shop;

static inline Span next_span(Shop *shop)
{
    shop->spans += 10;
    return (Span){shop->spans, shop->spans + 5, 0};
}

/* Threads of 0.15 mm, or what a test sets before it makes strands of them. Blank: 12 mm at 0, 4 mm at 1000 mm. */
static inline void shop_open(Shop *shop)
{
    memset(shop, 0, sizeof *shop);
    arena_start(&shop->arena, &shop->trap);
    if (setjmp(*trap_set(&shop->trap)) != 0)
        fail_msg("the machine has no memory left");
    texts_start(&shop->texts, &shop->arena);
    findings_start(&shop->findings, &shop->arena);
    static const char *const names[] = {"navy", "slate", "mist", "foam"};
    for (uint32_t i = 0; i < SHOP_THREADS; i++) {
        const Text *name = text_of_string(&shop->texts, names[i]);
        shop->threads[i] = (Thread){.opacity = 1, .name = name, .pitch = 0.15, .diameter = 0.15, .index = i};
        shop->thread_list[i] = &shop->threads[i];
    }
    shop->stations[0] = (Station){0, 12};
    shop->stations[1] = (Station){1000, 4};
    shop->blank = (Blank){.name = text_of_string(&shop->texts, "tube"),
                          .span = next_span(shop),
                          .stations = shop->stations,
                          .station_count = 2};
    shop->rod = (Rod){.blank = &shop->blank, .places = shop->places};
    shop->job = (Job){.threads = shop->thread_list, .thread_count = SHOP_THREADS, .rods = &shop->rod};
    shop->job.rod_count = 1;
    shop->job.bench = (Bench){.bind = 6,
                              .loop = 4,
                              .final = 8,
                              .free = 150,
                              .tolerance = 0.5,
                              .hand = 1500,
                              .apart = 1,
                              .coat = 0.25,
                              .coats = 2,
                              .ridge = 3,
                              .friction = 0.2,
                              .pack = 40,
                              .measure = NAN,
                              .speed = 60,
                              .handling = 60};
}

static inline void shop_close(Shop *shop) { arena_end(&shop->arena); }

/* Strands of threads by number, e.g. strands(shop, 2, (int[]){0, 1}); a negative number -n - 1 is a spacer. */
static inline const Strands *strands(Shop *shop, uint32_t count, const int *which)
{
    Strands *made = arena_take(&shop->arena, sizeof *made);
    made->items = arena_take_many(&shop->arena, count, sizeof *made->items);
    made->count = count;
    for (uint32_t i = 0; i < count; i++) {
        bool spacer = which[i] < 0;
        const Thread *thread = &shop->threads[spacer ? -which[i] - 1 : which[i]];
        made->items[i] = (Strand){thread, spacer};
        made->pitch += thread->pitch;
        if (!spacer)
            made->thickness = fmax(made->thickness, thread->diameter);
    }
    return made;
}

static inline const Strands *one(Shop *shop, int thread) { return strands(shop, 1, &thread); }

static inline Item band(Shop *shop, ExtentKind kind, double amount, int thread)
{
    return (Item){.kind = ITEM_BAND,
                  .span = next_span(shop),
                  .strands = one(shop, thread),
                  .extent = {.kind = kind, .amount = amount, .span = next_span(shop)}};
}

static inline Item fill(Shop *shop, double weight, uint32_t group, int thread)
{
    Item item = band(shop, EXTENT_FILL, weight, thread);
    item.extent.group = group;
    return item;
}

static inline Item gap(Shop *shop, double width)
{
    return (Item){.kind = ITEM_GAP,
                  .span = next_span(shop),
                  .extent = {.kind = EXTENT_LENGTH, .amount = width, .span = next_span(shop)}};
}

static inline Item fade_steps(Shop *shop, uint32_t steps, int from, int to)
{
    return (Item){.kind = ITEM_FADE,
                  .span = next_span(shop),
                  .fade_rule = FADE_STEPS,
                  .steps = steps,
                  .strands = one(shop, to),
                  .from = one(shop, from)};
}

static inline Item fade_even(Shop *shop, ExtentKind kind, double amount, int from, int to)
{
    return (Item){.kind = ITEM_FADE,
                  .span = next_span(shop),
                  .fade_rule = FADE_EVEN,
                  .strands = one(shop, to),
                  .from = one(shop, from),
                  .extent = {.kind = kind, .amount = amount, .span = next_span(shop)}};
}

static inline Inlay inlay(Shop *shop, double turns, int thread, PositionKind kind, double at)
{
    return (Inlay){.strands = one(shop, thread),
                   .extent = {.kind = EXTENT_TURNS, .amount = turns, .span = next_span(shop)},
                   .at_kind = kind,
                   .at = at,
                   .at_span = next_span(shop),
                   .span = next_span(shop)};
}

static inline void set_inlays(Shop *shop, Item *item, uint32_t count, const Inlay *inlays)
{
    Inlay *copy = arena_take_many(&shop->arena, count, sizeof *copy);
    memcpy(copy, inlays, count * sizeof *copy);
    item->inlays = copy;
    item->inlay_count = count;
}

static inline Place *add_place(Shop *shop, double mark, int direction, double length)
{
    Place *place = &shop->places[shop->rod.place_count++];
    *place = (Place){.span = next_span(shop),
                     .mark_span = next_span(shop),
                     .mark = mark,
                     .direction = direction,
                     .length = length,
                     .length_span = next_span(shop)};
    place->layers = arena_take_many(&shop->arena, SHOP_LAYERS, sizeof *place->layers);
    return place;
}

static inline Place *add_guide(Shop *shop, double mark, const Guide *guide)
{
    Place *place = add_place(shop, mark, 0, NAN);
    place->guide = guide;
    return place;
}

static inline Layer *add_layer(Shop *shop, Place *place, bool over, uint32_t count, const Item *items)
{
    Layer *layer = &place->layers[place->layer_count++];
    *layer = (Layer){.over = over, .span = next_span(shop), .length = NAN, .item_count = count};
    layer->items = arena_take_many(&shop->arena, count, sizeof *items);
    if (count)
        memcpy(layer->items, items, count * sizeof *items);
    for (uint32_t i = 0; i < count; i++)
        if (items[i].extent.kind == EXTENT_FILL && items[i].extent.group >= layer->group_count)
            layer->group_count = items[i].extent.group + 1;
    return layer;
}

#define LAYER(shop, place, over, ...)                                                                             \
    add_layer((shop), (place), (over), sizeof((Item[]){__VA_ARGS__}) / sizeof(Item), (Item[]){__VA_ARGS__})

static inline const Guide *new_guide(Shop *shop, Guide guide)
{
    Guide *copy = arena_take(&shop->arena, sizeof *copy);
    *copy = guide;
    copy->name = text_of_string(&shop->texts, "ring16");
    copy->span = next_span(shop);
    copy->foot_span = next_span(shop);
    copy->ramp_span = next_span(shop);
    return copy;
}

static inline const Plan *shop_plan(Shop *shop) { return plan_make(&shop->arena, &shop->job, &shop->findings); }

static inline const PlannedLayer *laid(const Plan *plan, uint32_t place, uint32_t layer)
{
    const PlannedLayer *planned = &plan->rods[0].places[place].layers[layer];
    assert_true(planned->laid);
    return planned;
}

/* Turns of all runs, as text: "navy 3, mist 1"; a gap is "gap". */
static inline const char *runs_text(Shop *shop, const PlannedLayer *layer)
{
    Buffer buffer;
    buffer_start(&buffer, &shop->arena);
    for (uint32_t i = 0; i < layer->run_count; i++) {
        const Run *run = &layer->runs[i];
        if (i)
            buffer_text(&buffer, ", ");
        if (run->strands)
            buffer_format(&buffer, "%s %u", run->strands->items[0].thread->name->bytes, (unsigned)run->turns);
        else
            buffer_text(&buffer, "gap");
    }
    buffer_put(&buffer, "", 1);
    return buffer.bytes;
}

/* The finding of this code, with its mend in words; fails if there is none. */
static inline const Finding *found(const Shop *shop, FindingCode code)
{
    for (uint32_t i = 0; i < shop->findings.list.count; i++)
        if (shop->findings.list.items[i].code == code) {
            assert_true(strlen(shop->findings.list.items[i].mend) > 0);
            return &shop->findings.list.items[i];
        }
    fail_msg("no finding %s", finding_code_text(code));
    return NULL;
}

#define assert_findings(shop, wanted) assert_int_equal((shop)->findings.list.count, (wanted))

#endif
