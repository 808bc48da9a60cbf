/* Threads, guides and blanks as values. */
#include "meaning/evaluate.h"

#include "base/limits.h"
#include "meaning/mend.h"
#include "trade/colour.h"
#include "trade/trade.h"

#include <math.h>

/* Thinnest and thickest thread worth the name, mm: from finer than any silk to heavy cord. Common practice, no
 * source. */
#define THREAD_LEAST 0.01
#define THREAD_MOST 10.0

static const double fibre_density[] = {
#define X(word, density) density,
    FIBRE_TABLE(X)
#undef X
};
/* Part of a filament thread that is fibre, about 0.6 to 0.75 (from memory). Round filaments packed as close as can
 * be fill 0.907: D. Petrulis and S. Petrulyte, "Properties of Close Packing of Filaments in Yarn", Fibres &
 * Textiles in Eastern Europe (2003; the abstract was read, year from memory). */
#define FULLNESS 0.7
/* Standard uncertainty of the pitch where nothing is said: common practice, no source. Makers differ in a nominal
 * size by a fifth or more (from memory). */
#define UNCERTAINTY_MEASURED 0.01
/* Of a length over which turns are counted, mm: what the share above is of a centimetre. Common practice, no
 * source. */
#define COUNT_ERROR 0.1
#define COUNTED_OVER 10.0
#define UNCERTAINTY_TEX 0.10
#define UNCERTAINTY_NOMINAL 0.20
#define MID_GREY 0x808080
/* Dark grey, as blanks of carbon fibre are: common practice, no source. */
#define BARE_BLANK 0x3a4143

/* What makes sense at all, wide on purpose: who leaves a range has most often mistaken a unit. Common practice, no
 * source. */
static const Range positive_length = {0.001, 1e7, NAN};
static const Range thread_width = {THREAD_LEAST, THREAD_MOST, NAN};
static const Range thread_rate = {1 / THREAD_MOST, 1 / THREAD_LEAST, NAN};
static const Range thread_tex = {0.1, 100000, NAN};
static const Range thread_fullness = {0.1, 1, FULLNESS};
static const Range thread_packing = {0.5, 20, 1};
static const Range thread_period = {1, 1e7, NAN};
static const Range thread_stock = {0, 1e12, NAN};
static const Range thread_spool = {1, 1e12, NAN};
static const Range thread_price = {0, 1e9, NAN};
static const Range blank_width = {0.1, 1000, NAN};
static const Range from_nothing = {0, 1e6, 0};
static const Range ring_width = {0.5, 500, NAN};

/* A part of a whole, from none of it to all. */
static Range share(double otherwise) { return (Range){.most = 1, .otherwise = otherwise}; }

/* What was known when a declaration's value was begun: others may be worked out on the way. */
typedef struct Begun {
    uint64_t told;
    Cause met;
} Begun;

/* Whether its value is known, or cannot be: it is being worked out, and is wanted for that. */
static bool is_begun(Evaluator *evaluator, Declaration *declaration)
{
    if (declaration->valued == IN_WORK) {
        const Node *node = declaration->node;
        Finding *finding = finding_add(evaluator->findings, FINDING_LET_CIRCLE, node->first->span,
                                       "the value of `%s` depends on itself", declaration->name->bytes);
        finding_mend(evaluator->findings, finding, "give it a value that does not use it");
        declaration->cause = finding->number;
    }
    return declaration->valued != UNSEEN;
}

static Begun begin(Evaluator *evaluator, Declaration *declaration)
{
    Begun begun = {evaluator->findings->told, evaluator->met};
    declaration->valued = IN_WORK;
    evaluator->met = CAUSE_NONE;
    return begun;
}

/* What is declared, or NULL, with the cause, if it is not known: something said of it is broken. */
static const void *settle(Evaluator *evaluator, Declaration *declaration, const void *value, Begun begun)
{
    declaration->valued = DONE;
    declaration->value = value;
    if (!value) {
        Cause cause = cause_since(evaluator, begun.told);
        const Node *unread = list_broken(declaration->node->options);
        if (!cause)
            cause = unread ? unread->cause : cause_of_options(declaration->node);
        declaration->cause = cause_mark(evaluator->findings, cause, declaration->node->span);
    }
    evaluator->met = begun.met;
    return value;
}

const Size *declared_size(Evaluator *evaluator, Declaration *declaration)
{
    if (is_begun(evaluator, declaration))
        return declaration->value;
    Begun begun = begin(evaluator, declaration);
    Size *size = arena_take(evaluator->arena, sizeof *size);
    size->diameter = option_number(evaluator, declaration->node, SIZE_DIAMETER, thread_width);
    size->uncertainty = option_number(evaluator, declaration->node, SIZE_UNCERTAINTY, share(UNCERTAINTY_NOMINAL));
    return settle(evaluator, declaration, isnan(size->diameter) ? NULL : size, begun);
}

/* Of all colours, mixed as light. */
static uint32_t mean_of_light(const uint32_t *colours, uint32_t count)
{
    Light mean = {0};
    for (uint32_t i = 0; i < count; i++) {
        Light one = light_of(colours[i]);
        mean.red += one.red / count;
        mean.green += one.green / count;
        mean.blue += one.blue / count;
    }
    return colour_of(mean);
}

/* Colours that follow one another along the thread. */
static void take_colours(Evaluator *evaluator, const Node *node, Thread *thread)
{
    const Node *value = option_value(node->options, THREAD_COLOURS);
    thread->period = option_number(evaluator, node, THREAD_PERIOD, thread_period);
    Value list = value ? evaluate(evaluator, value) : (Value){.type = TYPE_BROKEN};
    if (list.type == TYPE_BROKEN || isnan(thread->period))
        return;
    if (!list.list->count) {
        Finding *finding =
            finding_add(evaluator->findings, FINDING_EMPTY_LIST, value->span, "there is no colour in this list");
        finding_mend(evaluator->findings, finding, "name the colours, such as `[#22346b, #dfe9ef]`");
        finding_edit(evaluator->findings, finding, value->span, "[#22346b, #dfe9ef]");
        return;
    }
    if (list.list->count > LIMIT_COLOURS) {
        Finding *finding =
            finding_add(evaluator->findings, FINDING_OUT_OF_RANGE, value->span,
                        "a thread has at most %d colours; these are %u", LIMIT_COLOURS, list.list->count);
        finding_mend(evaluator->findings, finding, "leave out those that nobody would see");
        return;
    }
    uint32_t *colours = arena_take_many(evaluator->arena, list.list->count, sizeof *colours);
    for (uint32_t i = 0; i < list.list->count; i++)
        colours[i] = list.list->items[i].colour;
    thread->colours = colours;
    thread->colour_count = list.list->count;
}

static void take_preserver(Evaluator *evaluator, const Node *node, Thread *thread)
{
    const Node *value = option_value(node->options, THREAD_PRESERVER);
    thread->preserver_span = value ? option_node(node->options, THREAD_PRESERVER)->span : thread->span;
    thread->preserver = value && evaluate(evaluator, value).truth;
}

static void report_counts(Evaluator *evaluator, const Node *option)
{
    Finding *finding = finding_add(evaluator->findings, FINDING_OUT_OF_RANGE, option->span,
                                   "`turns` is one count, or a list of some: turns close laid over a length");
    finding_mend(evaluator->findings, finding, "write your counts, such as `[67 per cm, 134 per 2 cm]`");
    finding_edit(evaluator->findings, finding, option->span, "[67 per cm, 134 per 2 cm]");
}

/* As many turns as a list of counts has, mm wide; of one that was made elsewhere only the rate is known, as if it
 * were counted over a centimetre. */
static Count count_of(Evaluator *evaluator, const Node *node, double rate)
{
    bool written = node && node->kind == NODE_RATE;
    double width = written ? evaluate(evaluator, node->second).number : COUNTED_OVER;
    return (Count){rate * width, width};
}

/* Turns per mm, of one count or of several; NAN if none is said. `uncertainty` becomes theirs where there are
 * several. */
static double take_counts(Evaluator *evaluator, const Node *node, double *uncertainty)
{
    const Node *option = option_value(node->options, THREAD_TURNS);
    if (!option)
        return NAN;
    Value value = evaluate(evaluator, option);
    if (value.type == TYPE_BROKEN || !type_is_list(value.type))
        return number_within(evaluator, node, THREAD_TURNS, thread_rate, value);
    uint32_t count = value.list->count;
    Count *counts = arena_take_many(evaluator->arena, count, sizeof *counts);
    const Node *written = option->kind == NODE_LIST ? option->first : NULL;
    for (uint32_t i = 0; i < count; i++, written = written ? written->next : NULL) {
        double rate = value.list->items[i].number;
        if (!(rate >= thread_rate.least && rate <= thread_rate.most)) {
            count = 0;
            break;
        }
        counts[i] = count_of(evaluator, written, rate);
    }
    if (!count) {
        report_counts(evaluator, option);
        return NAN;
    }
    CountedPitch counted = counted_pitch(counts, count, COUNT_ERROR);
    *uncertainty = counted.uncertainty / counted.pitch;
    return 1 / counted.pitch;
}

/* Widths in the order in which they count; each is tried in turn. Returns false if none is said. */
static bool take_width(Evaluator *evaluator, const Node *node, Thread *thread)
{
    double counted = UNCERTAINTY_MEASURED, rate = take_counts(evaluator, node, &counted);
    double measured = option_number(evaluator, node, THREAD_DIAMETER, thread_width);
    const Node *size_name = option_value(node->options, THREAD_SIZE);
    Declaration *size = size_name && size_name->kind == NODE_NAME ? (Declaration *)size_name->target : NULL;
    double tex = option_number(evaluator, node, THREAD_TEX, thread_tex);
    double fullness = option_number(evaluator, node, THREAD_FULLNESS, thread_fullness);
    int fibre = option_choice(node, THREAD_FIBRE, -1);
    double packing = option_number(evaluator, node, THREAD_PACKING, thread_packing);

    double diameter = measured;
    uint32_t rule = THREAD_DIAMETER;
    double uncertainty = UNCERTAINTY_MEASURED;
    thread->width_source = WIDTH_MEASURED;
    if (isnan(diameter) && size) {
        Declaration *standing = swapped_size(evaluator, size);
        const Size *nominal = declared_size(evaluator, standing);
        if (!nominal)
            evaluator->met = standing->cause;
        diameter = nominal ? nominal->diameter : NAN;
        uncertainty = nominal ? nominal->uncertainty : UNCERTAINTY_NOMINAL;
        thread->width_source = WIDTH_NOMINAL;
        thread->size = size->name;
        rule = THREAD_SIZE;
    } else if (isnan(diameter) && !isnan(tex) && fibre >= 0) {
        diameter = yarn_diameter(tex, fibre_density[fibre], fullness);
        uncertainty = UNCERTAINTY_TEX;
        thread->width_source = WIDTH_FROM_TEX;
        rule = THREAD_TEX;
    }
    if (!isnan(rate)) {
        thread->width_source = WIDTH_COUNTED;
        uncertainty = counted;
        rule = THREAD_TURNS;
    }
    thread->pitch = !isnan(rate) ? 1 / rate : packing * diameter;
    thread->diameter = isnan(diameter) ? thread->pitch : diameter;
    thread->uncertainty = option_number(evaluator, node, THREAD_UNCERTAINTY, share(uncertainty));
    thread->uncertainty_written = option_node(node->options, THREAD_UNCERTAINTY);
    const Node *option = option_node(node->options, rule);
    thread->width_span = option ? option->span : thread->span;
    return !isnan(thread->pitch);
}

static bool any_width_written(const Node *node)
{
    return option_node(node->options, THREAD_TURNS) || option_node(node->options, THREAD_DIAMETER)
           || option_node(node->options, THREAD_SIZE) || option_node(node->options, THREAD_TEX);
}

/* An option that is unknown may be what says it. */
static bool any_dropped(const Node *node)
{
    for (const Node *option = node->options; option; option = option->next)
        if (option->slot == UINT32_MAX && option->cause)
            return true;
    return false;
}

/* A size is known by its letter, and a plan that goes by it says so (T503); turns that nobody counted would pass
 * for measured ones. */
static void report_no_width(Evaluator *evaluator, const Node *node)
{
    Finding *finding = finding_add(evaluator->findings, FINDING_THREAD_WITHOUT_WIDTH, node->first->span,
                                   "the pitch of `%s` is not known", node->first->text->bytes);
    finding_mend(
        evaluator->findings, finding,
        "wind 20 close turns, measure them, and write the turns for a length, such as `turns: 67 per cm`; or write its size");
    Span inside = {node->span.end - 1, node->span.end - 1, node->span.file};
    if (node->options)
        inside.start = inside.end = node->options->span.start;
    finding_edit(evaluator->findings, finding, inside, node->options ? "size: A, " : "size: A ");
}

const Thread *declared_thread(Evaluator *evaluator, Declaration *declaration)
{
    if (is_begun(evaluator, declaration))
        return declaration->value;
    const Node *node = declaration->node;
    Begun begun = begin(evaluator, declaration);
    Thread *thread = arena_take(evaluator->arena, sizeof *thread);
    thread->name = declaration->name;
    thread->span = node->first->span;
    bool known = take_width(evaluator, node, thread);
    if (list_broken(node->options))
        known = false;
    else if (!known && !any_width_written(node) && !any_dropped(node))
        report_no_width(evaluator, node);
    take_colours(evaluator, node, thread);
    uint32_t unsaid = thread->colour_count ? mean_of_light(thread->colours, thread->colour_count) : MID_GREY;
    thread->colour = option_colour(evaluator, node, THREAD_COLOUR, unsaid);
    thread->coloured = thread->colour_count || option_value(node->options, THREAD_COLOUR);
    thread->has_bare = option_value(node->options, THREAD_BARE);
    thread->bare = option_colour(evaluator, node, THREAD_BARE, thread->colour);
    take_preserver(evaluator, node, thread);
    thread->opacity = option_number(evaluator, node, THREAD_OPACITY, share(1));
    thread->sheen = (Sheen)option_choice(node, THREAD_SHEEN, SHEEN_GLOSS);
    thread->code = option_text(evaluator, node, THREAD_CODE);
    thread->stock = option_number(evaluator, node, THREAD_STOCK, thread_stock);
    thread->stock_span = option_value_span(node, THREAD_STOCK);
    thread->spool_span = option_value_span(node, THREAD_SPOOL);
    thread->price_span = option_value_span(node, THREAD_PRICE);
    thread->spool = option_number(evaluator, node, THREAD_SPOOL, thread_spool);
    thread->price = option_number(evaluator, node, THREAD_PRICE, thread_price);
    return settle(evaluator, declaration, known ? thread : NULL, begun);
}

static bool take_feet(Evaluator *evaluator, const Node *node, Guide *guide)
{
    const Node *foot = option_value(node->options, GUIDE_FOOT);
    if (!foot)
        return false;
    guide->foot_span = foot->span;
    Value value = evaluate(evaluator, foot);
    if (value.type == TYPE_BROKEN)
        return false;
    const Value *feet = type_is_list(value.type) ? value.list->items : &value;
    uint32_t count = type_is_list(value.type) ? value.list->count : 1;
    bool fits = count >= 1 && count <= 2 && (count == 2 || !type_is_list(value.type));
    for (uint32_t i = 0; i < count && fits; i++)
        fits = feet[i].number >= positive_length.least && feet[i].number <= positive_length.most;
    if (!fits) {
        Finding *finding = finding_add(evaluator->findings, FINDING_OUT_OF_RANGE, foot->span,
                                       "`foot` is one length, or a list of two, each more than 0 mm");
        finding_mend(evaluator->findings, finding,
                     "write `14 mm` for a single foot, `[19 mm, 17 mm]` for two, with your numbers");
        bool one = foot->kind == NODE_LIST && count == 1 && feet[0].number >= positive_length.least;
        finding_edit(evaluator->findings, finding, foot->span, "%s",
                     one         ? written(evaluator->findings->words, evaluator->sources, foot->first->span)
                     : count > 1 ? "[19 mm, 17 mm]"
                                 : "14 mm");
        return false;
    }
    for (; guide->foot_count < count; guide->foot_count++)
        guide->feet[guide->foot_count] = feet[guide->foot_count].number;
    return true;
}

/* Both said, the ring would reach into the blank. */
static void report_low_ring(Evaluator *evaluator, const Node *node, Guide *guide)
{
    LimitWords words = limit_words(evaluator, TYPE_LENGTH, guide->ring, guide->tall);
    Finding *finding =
        finding_add(evaluator->findings, FINDING_OUT_OF_RANGE, option_value_span(node, GUIDE_TALL),
                    "`tall` goes from the blank to the top of the ring, which is %s wide", words.limit);
    finding_label(evaluator->findings, finding, "this is %s", words.number);
    finding_relate(evaluator->findings, finding, option_value_span(node, GUIDE_RING), "how wide the ring is");
    finding_mend(evaluator->findings, finding, "write `%s` or more, as measured", words.limit);
    finding_edit(evaluator->findings, finding, option_value_span(node, GUIDE_TALL), "%s", words.limit);
    guide->tall = guide->ring;
}

static void take_look(Evaluator *evaluator, const Node *node, Guide *guide)
{
    guide->ring = option_number(evaluator, node, GUIDE_RING, ring_width);
    guide->tall = option_number(evaluator, node, GUIDE_TALL, ring_width);
    if (guide->tall < guide->ring)
        report_low_ring(evaluator, node, guide);
    guide->frame = option_colour(evaluator, node, GUIDE_FRAME, NO_COLOUR);
    guide->insert = option_colour(evaluator, node, GUIDE_INSERT, NO_COLOUR);
    guide->sheen = (Sheen)option_choice(node, GUIDE_SHEEN, SHEEN_GLOSS);
}

const Guide *declared_guide(Evaluator *evaluator, Declaration *declaration)
{
    if (is_begun(evaluator, declaration))
        return declaration->value;
    const Node *node = declaration->node;
    Begun begun = begin(evaluator, declaration);
    Guide *guide = arena_take(evaluator->arena, sizeof *guide);
    guide->name = declaration->name;
    guide->span = node->first->span;
    bool known = take_feet(evaluator, node, guide);
    guide->gap = option_number(evaluator, node, GUIDE_GAP, from_nothing);
    guide->width = option_number(evaluator, node, GUIDE_WIDTH, from_nothing);
    guide->height = option_number(evaluator, node, GUIDE_HEIGHT, from_nothing);
    guide->before = option_number(evaluator, node, GUIDE_BEFORE, from_nothing);
    double shortest = known ? guide->foot_count == 2 ? fmin(guide->feet[0], guide->feet[1]) : guide->feet[0] : 1e6;
    guide->ramp = option_number(evaluator, node, GUIDE_RAMP, (Range){.most = shortest});
    guide->ramp_span = option_value(node->options, GUIDE_RAMP) ? option_value_span(node, GUIDE_RAMP) : guide->span;
    guide->on_butt_side = option_choice(node, GUIDE_SIDE, 1) == 0;
    take_look(evaluator, node, guide);
    return settle(evaluator, declaration, known ? guide : NULL, begun);
}

/* Whether the stations rise, without the one of this index. */
static bool rise_without(const Blank *blank, uint32_t index)
{
    uint32_t before = UINT32_MAX;
    for (uint32_t i = 0; i < blank->station_count; i++) {
        if (i == index)
            continue;
        if (before != UINT32_MAX && blank->stations[i].at <= blank->stations[before].at)
            return false;
        before = i;
    }
    return true;
}

static const Node *station_at(const Node *blank, uint32_t index)
{
    const Node *station = blank->body;
    while (index--)
        station = station->next;
    return station;
}

static const char *text_between(Evaluator *evaluator, Span first, Span last)
{
    return written(evaluator->findings->words, evaluator->sources, (Span){first.start, last.end, first.file});
}

/* The edit that puts the station of index `from` where that of index `to` stands. */
static void move_station(Evaluator *evaluator, Finding *finding, const Node *node, uint32_t from, uint32_t to)
{
    bool on = to > from;
    Span moved = station_at(node, from)->span;
    Span first = station_at(node, on ? from + 1 : to)->span, last = station_at(node, on ? to : from - 1)->span;
    const char *own = text_between(evaluator, moved, moved), *passed = text_between(evaluator, first, last);
    Span gap = on ? (Span){moved.end, first.start, moved.file} : (Span){last.end, moved.start, moved.file};
    finding_mend(evaluator->findings, finding, "put the stations in order from the butt: move `%s`", own);
    finding_edit(evaluator->findings, finding, on ? span_join(moved, last) : span_join(first, moved), "%s%s%s",
                 on ? passed : own, written(evaluator->findings->words, evaluator->sources, gap),
                 on ? own : passed);
}

/* The station of index `late` does not lie beyond the one before it. Which of the two is out of place shows where
 * the others rise without it. It is moved to where it belongs, or taken out if there is one at its place already.
 */
static void mend_station(Evaluator *evaluator, Finding *finding, const Node *node, const Blank *blank,
                         uint32_t late)
{
    uint32_t moved = rise_without(blank, late) || !rise_without(blank, late - 1) ? late : late - 1;
    double at = blank->stations[moved].at;
    uint32_t to = 0;
    for (uint32_t i = 0; i < blank->station_count; i++) {
        if (i != moved && blank->stations[i].at == at) {
            finding_mend(evaluator->findings, finding, "take one of the two stations at this place out");
            edit_out(evaluator->findings, finding, evaluator->sources, station_at(node, moved)->span);
            return;
        }
        to += i != moved && blank->stations[i].at < at;
    }
    if (to != moved)
        move_station(evaluator, finding, node, moved, to);
}

static void report_diameter(Evaluator *evaluator, const Node *node, double diameter)
{
    bool thin = diameter < blank_width.least;
    LimitWords words = limit_words(evaluator, TYPE_LENGTH, thin ? blank_width.least : blank_width.most, diameter);
    Finding *finding = finding_add(evaluator->findings, FINDING_OUT_OF_RANGE, node->span,
                                   "a blank is at %s %s thick", thin ? "least" : "most", words.limit);
    finding_label(evaluator->findings, finding, "this is %s", words.number);
    finding_mend(evaluator->findings, finding, "write the diameter measured there, such as %s", words.limit);
    finding_edit(evaluator->findings, finding, node->span, "%s", words.limit);
}

static void report_too_few_stations(Evaluator *evaluator, const Node *node, const Blank *blank)
{
    /* mm: beyond any first station but that of a long blank; a tip as in the sample, where the butt is thicker */
    const double ROD = 1000, TIP = 4;
    Finding *finding = finding_add(evaluator->findings, FINDING_BLANK_STATIONS, node->first->span,
                                   "a blank needs at least two stations");
    Span inside = {node->span.end - 1, node->span.end - 1, node->span.file};
    if (!blank->station_count) {
        finding_mend(evaluator->findings, finding,
                     "measure the blank at both ends and write its diameters there, such as `at 0 mm: 12 mm`");
        finding_edit(evaluator->findings, finding, inside, " at 0 mm: 12 mm  at 100 cm: 4 mm ");
        return;
    }
    const char *tip = blank->stations[0].diameter > TIP
                          ? "4 mm"
                          : source_value(evaluator, TYPE_LENGTH, blank->stations[0].diameter);
    finding_mend(evaluator->findings, finding,
                 "measure the blank at its other end too and write its diameter there, such as `at 100 cm: %s`",
                 tip);
    if (blank->stations[0].at < ROD)
        finding_edit(evaluator->findings, finding, inside, " at 100 cm: %s ", tip);
}

/* False if one of them is broken. */
static bool evaluate_stations(Evaluator *evaluator, const Node *node, Blank *blank)
{
    for (const Node *station = node->body; station; station = station->next) {
        if (station->kind == NODE_BROKEN) {
            evaluator->met = station->cause;
            return false;
        }
        Value at = evaluate(evaluator, station->first), diameter = evaluate(evaluator, station->second);
        if (at.type == TYPE_BROKEN || diameter.type == TYPE_BROKEN)
            return false;
        if (diameter.number < blank_width.least || diameter.number > blank_width.most) {
            report_diameter(evaluator, station->second, diameter.number);
            return false;
        }
        blank->stations[blank->station_count++] = (Station){at.number, diameter.number};
    }
    return true;
}

static bool take_stations(Evaluator *evaluator, const Node *node, Blank *blank)
{
    if (!evaluate_stations(evaluator, node, blank))
        return false;
    for (uint32_t i = 1; i < blank->station_count; i++) {
        if (blank->stations[i].at > blank->stations[i - 1].at)
            continue;
        Finding *finding =
            finding_add(evaluator->findings, FINDING_BLANK_STATIONS, station_at(node, i)->first->span,
                        "this station does not lie beyond the one before it");
        finding_relate(evaluator->findings, finding, station_at(node, i - 1)->span, "the one before it");
        mend_station(evaluator, finding, node, blank, i);
        return false;
    }
    if (blank->station_count < 2)
        report_too_few_stations(evaluator, node, blank);
    return blank->station_count >= 2;
}

const Blank *declared_blank(Evaluator *evaluator, Declaration *declaration)
{
    if (is_begun(evaluator, declaration))
        return declaration->value;
    const Node *node = declaration->node;
    Begun begun = begin(evaluator, declaration);
    uint32_t count = 0;
    for (const Node *station = node->body; station; station = station->next)
        count++;
    Blank *blank = arena_take(evaluator->arena, sizeof *blank);
    blank->name = declaration->name;
    blank->span = node->first->span;
    blank->colour = option_colour(evaluator, node, BLANK_COLOUR, BARE_BLANK);
    blank->coloured = option_value(node->options, BLANK_COLOUR);
    blank->sheen = (Sheen)option_choice(node, BLANK_SHEEN, SHEEN_GLOSS);
    blank->stations = arena_take_many(evaluator->arena, count, sizeof *blank->stations);
    return settle(evaluator, declaration, take_stations(evaluator, node, blank) ? blank : NULL, begun);
}
