/* The lines of a card: each run of a layer, or a whole fade, with how its pieces come in and go out. */
#include "words/card_maker.h"

#include "plan/plan_sums.h"
#include "words/crosswrap_words.h"
#include "words/evenness_words.h"

#include <math.h>

/* What a piece, or strands together, make of one line. Of a fade each thread has one, else those that follow one
 * another: a cut piece, and the spool that goes on for it. */
typedef struct Share {
    uint32_t line;
    PieceGroup pieces;
    uint32_t turns, by_hand; /* of them passed by hand */
    uint64_t first_turn;     /* of the layer */
    uint32_t first_winding;
    uint32_t first_way; /* of as many as it has pieces */
} Share;

/* Where a share's piece comes from, and where it goes on: numbers of lines, 0 for none. */
typedef struct PieceWay {
    uint32_t from, to;
} PieceWay;

/* Of one piece of the layer: how it begins and ends, NULL where it does not; the line that was looked at last. */
typedef struct PieceCourse {
    const Action *start, *cut, *end, *taken_off;
    uint32_t line;
} PieceCourse;

typedef struct LayerLines {
    SheetMaker *maker;
    const PlannedRod *rod;
    const PlannedPlace *place;
    const PlannedLayer *layer;
    const Action *actions, *actions_end; /* of the layer */
    CardLayer *card;
    uint32_t *line_of_run;
    const Winding *windings; /* of the layer */
    uint32_t winding_count, first_winding;
    uint32_t *by_hand; /* turns, by winding */
    uint32_t first_piece, piece_count;
    PieceCourse *courses; /* by piece, from first_piece on */
    LIST_OF(Share) shares;
    PieceWay *ways;
    uint32_t way_count;
} LayerLines;

static Buffer *words(LayerLines *lines) { return &lines->maker->words; }

/* --- which lines there are --- */

static void put_names(LayerLines *lines, const Strands *strands)
{
    for (uint32_t i = 0; i < strands->count; i++) {
        const Strand *strand = &strands->items[i];
        buffer_text(words(lines), i == 0 ? "" : i + 1 == strands->count ? " and " : ", ");
        buffer_text(words(lines), strand->spacer ? "spacer " : "");
        buffer_text(words(lines), lines->maker->names[strand->thread->index]);
    }
    buffer_text(words(lines), strands->count > 1 ? " together" : "");
}

static void add_line(LayerLines *lines, uint32_t first_run, uint32_t run_count)
{
    const Run *run = &lines->layer->runs[first_run];
    const PlannedItem *item = &lines->layer->items[run->item];
    bool fade = item->item->kind == ITEM_FADE;
    CardLine *line = &lines->card->lines[lines->card->line_count];
    *line = (CardLine){.number = ++lines->card->line_count,
                       .first_run = first_run,
                       .run_count = run_count,
                       .strands = fade ? item->from : run->strands,
                       .into = fade ? item->to : NULL,
                       .how = "",
                       .look = ""};
    for (uint32_t i = 0; i < run_count; i++)
        lines->line_of_run[first_run + i] = line->number - 1;
    if (line->strands) {
        buffer_format(words(lines), "%u", (unsigned)(fade ? item->turns : run->turns));
        line->count = maker_take(lines->maker);
        put_names(lines, line->strands);
        if (fade) {
            buffer_text(words(lines), " to ");
            put_names(lines, line->into);
        }
    } else {
        maker_callipers(lines->maker, run_width(run));
        line->count = maker_take(lines->maker);
        buffer_text(words(lines), "gap");
    }
    line->thread = maker_take(lines->maker);
    maker_rule(lines->maker, from_datum(lines->place, run[run_count - 1].end));
    line->end = maker_take(lines->maker);
}

static void find_lines(LayerLines *lines)
{
    const PlannedLayer *layer = lines->layer;
    lines->card->lines = arena_take_many(lines->maker->arena, layer->run_count, sizeof *lines->card->lines);
    for (uint32_t r = 0, count; r < layer->run_count; r += count) {
        const PlannedItem *item = &layer->items[layer->runs[r].item];
        count = item->item->kind == ITEM_FADE ? item->run_count : 1;
        add_line(lines, r, count);
    }
}

/* --- what the pieces do in them --- */

static PieceCourse *course_of(LayerLines *lines, uint32_t piece)
{
    return &lines->courses[piece - lines->first_piece];
}

static bool is_fade(const CardLine *line) { return line->into != NULL; }

/* The share of the winding's pieces, where one is begun for them. */
static Share *share_of(LayerLines *lines, uint32_t first_share, uint32_t line, PieceGroup pieces)
{
    uint32_t last = lines->shares.count;
    if (last == first_share)
        return NULL;
    if (!is_fade(&lines->card->lines[line]))
        first_share = last - 1;
    for (uint32_t i = first_share; i < last; i++)
        if (same_group(lines->shares.items[i].pieces, pieces))
            return &lines->shares.items[i];
    return NULL;
}

static void find_shares(LayerLines *lines)
{
    uint32_t first_share = 0, before = UINT32_MAX;
    uint64_t turn = 0;
    for (uint32_t w = 0; w < lines->winding_count; w++) {
        const Winding *winding = &lines->windings[w];
        uint32_t line = lines->line_of_run[winding->run];
        if (line != before)
            first_share = lines->shares.count;
        before = line;
        Share *share = share_of(lines, first_share, line, winding->pieces);
        if (!share) {
            share = LIST_ADD(lines->maker->arena, &lines->shares);
            *share = (Share){.line = line,
                             .pieces = winding->pieces,
                             .first_turn = turn,
                             .first_winding = w,
                             .first_way = lines->way_count};
            lines->way_count += share->pieces.count;
        }
        share->turns += winding->turns;
        share->by_hand += lines->by_hand[w];
        turn += winding->turns;
    }
}

static void follow_action(LayerLines *lines, const Action *action)
{
    if (action->kind == ACTION_WIND && action->by_hand)
        lines->by_hand[action->winding - lines->first_winding] += action->turns;
    for (uint32_t i = 0; i < action->piece_count; i++) {
        uint32_t piece = group_piece(action_pieces(action), i);
        if (piece < lines->first_piece || piece >= lines->first_piece + lines->piece_count)
            continue;
        PieceCourse *course = course_of(lines, piece);
        if (action->kind == ACTION_START || action->kind == ACTION_LAY_IN)
            course->start = action;
        if (action->kind == ACTION_CUT_FROM_SPOOL)
            course->cut = action;
        if (action->kind == ACTION_LAY_END || action->kind == ACTION_PULL_THROUGH)
            course->end = action;
        if (action->kind == ACTION_TAKE_SPACER)
            course->taken_off = action;
    }
}

static void find_pieces(LayerLines *lines)
{
    uint32_t low = UINT32_MAX, high = 0;
    for (uint32_t w = 0; w < lines->winding_count; w++)
        for (uint32_t i = 0; i < lines->windings[w].pieces.count; i++) {
            uint32_t piece = group_piece(lines->windings[w].pieces, i);
            low = piece < low ? piece : low;
            high = piece >= high ? piece + 1 : high;
        }
    lines->first_piece = low;
    lines->piece_count = high > low ? high - low : 0;
    Arena *arena = lines->maker->arena;
    lines->courses = arena_take_many(arena, lines->piece_count, sizeof *lines->courses);
    lines->by_hand = arena_take_many(arena, lines->winding_count, sizeof *lines->by_hand);
    for (const Action *action = lines->actions; action != lines->actions_end; action++)
        follow_action(lines, action);
}

/* Forward for where pieces come from, backward for where they go on. */
static void find_ways(LayerLines *lines)
{
    lines->ways = arena_take_many(lines->maker->arena, lines->way_count, sizeof *lines->ways);
    for (uint32_t s = 0; s < lines->shares.count; s++)
        for (uint32_t i = 0; i < lines->shares.items[s].pieces.count; i++) {
            const Share *share = &lines->shares.items[s];
            PieceCourse *course = course_of(lines, group_piece(share->pieces, i));
            lines->ways[share->first_way + i].from = course->line;
            course->line = share->line + 1;
        }
    for (uint32_t p = 0; p < lines->piece_count; p++)
        lines->courses[p].line = 0;
    for (uint32_t s = lines->shares.count; s-- > 0;)
        for (uint32_t i = 0; i < lines->shares.items[s].pieces.count; i++) {
            const Share *share = &lines->shares.items[s];
            PieceCourse *course = course_of(lines, group_piece(share->pieces, i));
            lines->ways[share->first_way + i].to = course->line;
            course->line = share->line + 1;
        }
}

/* --- a piece in words --- */

/* The strands that wind the last so many turns before the winding; NULL where they differ. */
static const Strands *strands_before(const LayerLines *lines, uint32_t winding, uint32_t turns)
{
    const Strands *found = NULL;
    for (uint64_t seen = 0; winding > 0 && seen < turns; seen += lines->windings[winding].turns) {
        const Strands *strands = lines->layer->runs[lines->windings[--winding].run].strands;
        bool alike =
            !found || found == strands
            || (found->count == 1 && strands->count == 1 && found->items->thread == strands->items->thread);
        if (!alike)
            return NULL;
        found = strands;
    }
    return found;
}

/* "laid in under 6 of navy", "on a bobbin, laid in under the 6 turns before". */
static void put_laid_in(LayerLines *lines, const Share *share, const Action *action)
{
    const Strands *over = strands_before(lines, share->first_winding, action->turns);
    buffer_text(words(lines), lines->maker->rod->rod->pieces[action->piece].bobbin ? "on a bobbin, " : "");
    if (!over) {
        buffer_format(words(lines), "laid in under the %u turns before", (unsigned)action->turns);
        return;
    }
    buffer_format(words(lines), "laid in under %u of ", (unsigned)action->turns);
    put_names(lines, over);
}

/* That a fade takes its old thread from the line before it, and gives its new one to the next, goes without
 * saying.
 */
static bool goes_without_saying(const LayerLines *lines, const Share *share, uint32_t other)
{
    uint32_t own = share->line + 1;
    return is_fade(&lines->card->lines[share->line]) && (other + 1 == own || other == own + 1);
}

static void put_way_in(LayerLines *lines, const Share *share, const PieceCourse *course, const PieceWay *way)
{
    if (way->from && goes_without_saying(lines, share, way->from))
        return;
    if (way->from)
        buffer_format(words(lines), "from line %u", (unsigned)way->from);
    else if (course->start && course->start->kind == ACTION_START)
        buffer_text(words(lines), "starts over its tag");
    else if (course->start)
        put_laid_in(lines, share, course->start);
}

/* begun: something has been said of the piece already. */
static void put_way_out(LayerLines *lines, const Share *share, const PieceCourse *course, const PieceWay *way)
{
    const Action *end = way->to ? NULL : course->end;
    if (way->to && !goes_without_saying(lines, share, way->to))
        buffer_format(words(lines), "on to line %u", (unsigned)way->to);
    if (end && end->kind == ACTION_PULL_THROUGH)
        buffer_format(words(lines), "pulled through under the last %u", (unsigned)end->state.covered);
    else if (end && !course->taken_off)
        buffer_format(words(lines), "end under the next %u", (unsigned)end->turns);
    if (!way->to && course->taken_off)
        buffer_text(words(lines), "taken off at the end");
}

/* What was put since `from` as a text, taken back. */
static const char *take_back(LayerLines *lines, size_t from)
{
    const char *made =
        text_format(lines->maker->arena, "%.*s", (int)(words(lines)->length - from), words(lines)->bytes + from);
    words(lines)->length = from;
    return made;
}

/* Whether a thread is cut from its spool within the share: what it makes of it from then on it makes by hand. */
static bool is_cut_within(const Share *share, const PieceCourse *course)
{
    if (!course->cut)
        return false;
    uint64_t turn = course->cut->layer_count;
    return turn >= share->first_turn && turn < share->first_turn + share->turns;
}

/* "cut off leaving 1.03 m, the last 6 by hand". */
static void put_cut(LayerLines *lines, const Share *share, const PieceCourse *course)
{
    buffer_text(words(lines), "cut off leaving ");
    maker_cut(lines->maker, course->cut->length);
    buffer_format(words(lines), ", the last %u by hand", (unsigned)share->by_hand);
}

/* "by hand", of a part of the turns "3 by hand"; of a band from a bobbin these are the last. */
static void put_by_hand(LayerLines *lines, const Share *share)
{
    bool last =
        lines->maker->rod->rod->pieces[share->pieces.first].bobbin && !is_fade(&lines->card->lines[share->line]);
    if (share->by_hand && share->by_hand < share->turns)
        buffer_format(words(lines), "%s%u ", last ? "the last " : "", (unsigned)share->by_hand);
    buffer_text(words(lines), share->by_hand ? "by hand" : "");
}

/* "by hand, laid in under 6 of navy, end under the next 6"; "" where all of it goes without saying. */
static const char *piece_words(LayerLines *lines, const Share *share, uint32_t index)
{
    const PieceCourse *course = course_of(lines, group_piece(share->pieces, index));
    const PieceWay *way = &lines->ways[share->first_way + index];
    size_t before = words(lines)->length;
    bool cut = is_cut_within(share, course);
    const char *parts[4];
    if (!cut)
        put_by_hand(lines, share);
    parts[0] = take_back(lines, before);
    put_way_in(lines, share, course, way);
    parts[1] = take_back(lines, before);
    if (cut)
        put_cut(lines, share, course);
    parts[2] = take_back(lines, before);
    put_way_out(lines, share, course, way);
    parts[3] = take_back(lines, before);
    for (int i = 0; i < 4; i++)
        if (*parts[i]) {
            buffer_text(words(lines), words(lines)->length > before ? ", " : "");
            buffer_text(words(lines), parts[i]);
        }
    return take_back(lines, before);
}

/* Strands whose ways are the same are told in one. */
static void put_pieces_of(LayerLines *lines, const Share *share)
{
    const Strands *strands = lines->layer->runs[lines->windings[share->first_winding].run].strands;
    const char *first = piece_words(lines, share, 0);
    bool alike = true;
    for (uint32_t i = 1; i < share->pieces.count; i++)
        alike &= strcmp(first, piece_words(lines, share, i)) == 0;
    if (alike) {
        buffer_text(words(lines), share->pieces.count > 1 && *first ? "each " : "");
        buffer_text(words(lines), first);
        return;
    }
    for (uint32_t i = 0; i < share->pieces.count; i++) {
        const Strand *strand = &strands->items[i];
        buffer_format(words(lines), "%s%s%s ", i ? "; " : "", strand->spacer ? "spacer " : "",
                      lines->maker->names[strand->thread->index]);
        buffer_text(words(lines), piece_words(lines, share, i));
    }
}

/* --- fades --- */

/* "in 1, out 5", of a fade step that begins with this run; "out 5" where the fade begins with the old thread.
 * Gives how many runs it has. */
static uint32_t put_fade_step(Buffer *out, const Run *runs, uint32_t count)
{
    uint32_t used = 0;
    do {
        buffer_format(out, "%s%s %u", used ? ", " : "", runs[used].role == RUN_FADE_IN ? "in" : "out",
                      (unsigned)runs[used].turns);
        used++;
    } while (used < count && runs[used].role != RUN_FADE_IN);
    return used;
}

static bool same_step(const Run *a, const Run *b, uint32_t runs, uint32_t left)
{
    for (uint32_t i = 0; i < runs; i++)
        if (i >= left || a[i].role != b[i].role || a[i].turns != b[i].turns)
            return false;
    return runs >= left || b[runs].role == RUN_FADE_IN;
}

/* "in 1, out 5; in 2, out 4 (3 times)": the whole fade, whichever way it was written. */
static void put_fade_steps(LayerLines *lines, const CardLine *line)
{
    const Run *runs = &lines->layer->runs[line->first_run];
    for (uint32_t r = 0; r < line->run_count;) {
        buffer_text(words(lines), r ? "; " : "");
        uint32_t used = put_fade_step(words(lines), &runs[r], line->run_count - r), times = 1;
        while (same_step(&runs[r], &runs[r + times * used], used, line->run_count - r - times * used))
            times++;
        if (times > 1)
            buffer_format(words(lines), " (%u times)", (unsigned)times);
        r += times * used;
    }
}

/* Of longer fades only so many turns, evenly. */
enum { MOST_IN_COURSE = 48 };

static void set_course(LayerLines *lines, CardLine *line, const FadeAt *at)
{
    Arena *arena = lines->maker->arena;
    FadeCourse course = fade_course(arena, at, VISION_ALL_CONES);
    if (course.count < 2)
        return;
    const SeenTurn *first = course.turns, *last = first + course.count - 1;
    bool rising = first->x < last->x;
    FadeShades shades = fade_shades(at);
    double one = lab_of_light(shades.from).lightness, other = lab_of_light(shades.to).lightness,
           dark = fmin(one, other);
    if (fabs(one - other) < at->bench->alike)
        return;
    uint32_t count = course.count < MOST_IN_COURSE ? course.count : MOST_IN_COURSE;
    CardCourse *points = arena_take_many(arena, count, sizeof *points);
    for (uint32_t i = 0; i < count; i++) {
        const SeenTurn *turn = &first[(uint64_t)i * (course.count - 1) / (count - 1)];
        points[rising ? i : count - 1 - i] =
            (CardCourse){(float)((turn->x - fmin(first->x, last->x)) / fabs(last->x - first->x)),
                         (float)((turn->lightness - dark) / fabs(one - other)),
                         (float)((turn->even_lightness - dark) / fabs(one - other))};
    }
    line->course = points;
    line->course_count = count;
}

/* What is the same as of a fade before it in the layer goes without saying. */
static const char *look_of_fade(LayerLines *lines, CardLine *line)
{
    SheetMaker *maker = lines->maker;
    uint32_t item = lines->layer->runs[line->first_run].item;
    FadeAt at = {maker->bench, lines->rod->rod, lines->place, (uint32_t)(lines->layer - lines->place->layers),
                 item};
    if (!fade_is_seen(&lines->layer->items[item]))
        return "";
    uint32_t kind = fade_kind(&maker->kinds, &at);
    if (kind == NO_KIND)
        return "";
    if (kind == maker->fades.count)
        *LIST_ADD(maker->arena, &maker->fades) = (FadeTold){.look = fade_look(&at, VISION_ALL_CONES)};
    FadeTold *told = &maker->fades.items[kind];
    if (told->layer == maker->card_layers)
        return "";
    told->layer = maker->card_layers;
    set_course(lines, line, &at);
    return evenness_words(maker->arena, maker->bench, &told->look, lines->layer->items[item].turns);
}

/* --- a line in words --- */

/* Before the share's words: of which thread, or which turns, they are told. */
static void put_whose(LayerLines *lines, const Share *share, bool alone, bool first)
{
    const CardLine *line = &lines->card->lines[share->line];
    if (is_fade(line)) {
        put_names(lines, lines->layer->runs[lines->windings[share->first_winding].run].strands);
        buffer_text(words(lines), " ");
    } else if (!alone) {
        buffer_format(words(lines), "%s %u ", first ? "first" : "next", (unsigned)share->turns);
    }
}

static void put_line(LayerLines *lines, CardLine *line, uint32_t first_share, uint32_t end_share)
{
    if (is_fade(line))
        put_fade_steps(lines, line);
    for (uint32_t s = first_share; s < end_share; s++) {
        const Share *share = &lines->shares.items[s];
        size_t before = words(lines)->length;
        put_pieces_of(lines, share);
        const char *told = take_back(lines, before);
        if (!*told)
            continue;
        buffer_text(words(lines), before ? "; " : "");
        put_whose(lines, share, end_share == first_share + 1, s == first_share);
        buffer_text(words(lines), told);
    }
    line->how = maker_take(lines->maker);
    if (is_fade(line))
        line->look = look_of_fade(lines, line);
}

static void put_lines(LayerLines *lines)
{
    for (uint32_t s = 0, end; s < lines->shares.count; s = end) {
        uint32_t line = lines->shares.items[s].line;
        for (end = s + 1; end < lines->shares.count && lines->shares.items[end].line == line;)
            end++;
        put_line(lines, &lines->card->lines[line], s, end);
    }
}

/* --- measuring --- */

/* "44.8 ± 0.6 mm" */
static const char *expected_width(const LayerLines *lines, const Action *action)
{
    SheetMaker *maker = lines->maker;
    maker_callipers(maker, action->length);
    const char *width = maker_take(maker), *unit = strrchr(width, ' ');
    buffer_format(&maker->words, "%.*s ± ", (int)(unit - width), width);
    maker_callipers(maker, uncertainty_at(lines->layer, action->layer_count));
    return maker_take(maker);
}

static void find_measures(LayerLines *lines)
{
    uint64_t end = 0;
    uint32_t next = 0;
    Arena *arena = lines->maker->arena;
    for (const Action *action = lines->actions; action != lines->actions_end; action++) {
        if (action->kind != ACTION_MEASURE)
            continue;
        while (end < action->layer_count) {
            const CardLine *line = &lines->card->lines[next++];
            for (uint32_t r = 0; r < line->run_count; r++)
                end += lines->layer->runs[line->first_run + r].turns;
        }
        CardMeasure *measure = LIST_ADD(arena, &lines->card->lines[next - 1].measures);
        *measure = (CardMeasure){.width = expected_width(lines, action), .after = ""};
        if (action->layer_count < end)
            measure->after = text_format(arena, "after turn %llu", (unsigned long long)action->layer_count);
    }
}

/* --- all --- */

void card_lines(SheetMaker *maker, const SheetPart *part, uint32_t first_winding, uint32_t winding_count,
                CardLayer *card)
{
    const PlannedRod *rod = maker->rod->rod;
    const PlannedPlace *place = &rod->places[part->place];
    const PlannedLayer *layer = &place->layers[part->layer];
    LayerLines lines = {.maker = maker,
                        .rod = rod,
                        .place = place,
                        .layer = layer,
                        .actions = &maker->rod->actions[part->first],
                        .actions_end = &maker->rod->actions[part->first + part->count],
                        .card = card,
                        .line_of_run = arena_take_many(maker->arena, layer->run_count, sizeof *lines.line_of_run),
                        .windings = &rod->windings[first_winding],
                        .first_winding = first_winding,
                        .winding_count = winding_count};
    maker->card_layers++;
    find_lines(&lines);
    find_pieces(&lines);
    find_shares(&lines);
    find_ways(&lines);
    put_lines(&lines);
    find_measures(&lines);
}
