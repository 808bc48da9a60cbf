/* The bench sheet's content: head, threads, cautions, and every rod's cuts and actions in words. */
#include "words/sheet_maker.h"

#include "words/trade_words.h"
#include "base/visible.h"

#include <string.h>

/* --- the words at hand --- */

const char *maker_take(SheetMaker *maker)
{
    char *text = arena_take(maker->arena, maker->words.length + 1);
    if (maker->words.length)
        memcpy(text, maker->words.bytes, maker->words.length);
    maker->words.length = 0;
    return text;
}

void maker_rule(SheetMaker *maker, double mm) { put_read(&maker->words, maker->bench->rule, QUANTITY_WIDTH, mm); }

void maker_from(SheetMaker *maker, double mm, const char *mark)
{
    bool there = reads_nothing(maker->bench->rule, mm);
    if (!there)
        maker_rule(maker, mm);
    buffer_format(&maker->words, there ? "at %s" : " from %s", mark);
}

void maker_from_mark(SheetMaker *maker, double mm) { maker_from(maker, mm, "the mark"); }

void maker_place(SheetMaker *maker, double mm) { put_read(&maker->words, maker->bench->rule, QUANTITY_PLACE, mm); }

void maker_callipers(SheetMaker *maker, double mm)
{
    put_read(&maker->words, maker->bench->callipers, QUANTITY_WIDTH, mm);
}

void maker_cut(SheetMaker *maker, double mm) { put_cut_length(&maker->words, maker->bench->units, mm); }

const char *piece_label(SheetMaker *maker, uint32_t piece)
{
    const Thread *thread = maker->rod->rod->pieces[piece].thread;
    if (!maker->labels[piece])
        maker->labels[piece] = text_format(maker->arena, "%s %u", maker->names[thread->index],
                                           (unsigned)maker->rod->piece_numbers[piece]);
    return maker->labels[piece];
}

void put_pieces(SheetMaker *maker, PieceGroup pieces)
{
    for (uint32_t i = 0; i < pieces.count; i++) {
        buffer_text(&maker->words, i == 0 ? "" : i + 1 == pieces.count ? " and " : ", ");
        buffer_text(&maker->words, piece_label(maker, group_piece(pieces, i)));
    }
}

const PlannedPlace *place_of_action(const SheetMaker *maker, const Action *action)
{
    return &maker->rod->rod->places[action->place];
}

const PlannedLayer *layer_of_action(const SheetMaker *maker, const Action *action)
{
    return action->layer == WHOLE_ROD ? NULL : &place_of_action(maker, action)->layers[action->layer];
}

const char *side_word(const SheetMaker *maker, int direction)
{
    return toward_tip(direction) == maker->bench->butt_left ? "right" : "left";
}

const Section *several_sections(const SheetMaker *maker)
{
    const Rod *rod = maker->rod->rod->rod;
    return rod->section_count > 1 ? rod->sections : NULL;
}

/* --- threads --- */

/* "; now 0.152 mm ± 0.001 mm, by what was measured", "...; 0.152 mm ± 0.001 mm, by the record of Harbour". */
static void put_learned(SheetMaker *maker, const Thread *thread)
{
    UnitSystem units = maker->bench->units;
    for (uint32_t i = 0; i < maker->plan->learned_count; i++) {
        const Learned *learned = &maker->plan->learned[i];
        if (learned->thread != thread)
            continue;
        buffer_format(&maker->words, "; %s%s ± %s, by ", learned->here ? "now " : "",
                      show_fine(maker->arena, units, learned->turn),
                      show_fine(maker->arena, units, learned->uncertainty));
        buffer_text(&maker->words, learned->here ? "what was measured" : "");
        buffer_text(&maker->words, learned->here && learned->earlier ? " and " : "");
        if (learned->earlier)
            buffer_format(&maker->words, "the record of %s", visible(maker->arena, maker->plan->job->known.from));
    }
}

static const char *thread_note(SheetMaker *maker, const Thread *thread)
{
    buffer_format(&maker->words, "%s a turn", show_fine(maker->arena, maker->bench->units, thread->pitch));
    if (thread->width_source == WIDTH_NOMINAL)
        buffer_format(&maker->words, " by its size %s: nominal, not measured",
                      visible(maker->arena, thread->size->bytes));
    if (thread->width_source == WIDTH_FROM_TEX)
        buffer_text(&maker->words, " by its weight, not measured");
    put_learned(maker, thread);
    if (thread->code)
        buffer_format(&maker->words, ", maker's code %s", visible(maker->arena, thread->code->bytes));
    const char *lot = thread_lot(maker->plan->job, thread);
    if (lot)
        buffer_format(&maker->words, ", lot %s", visible(maker->arena, lot));
    buffer_text(&maker->words, thread->preserver ? ", needs colour preserver" : "");
    if (thread->colour_count) {
        buffer_format(&maker->words, "; variegated, %u %s in ", (unsigned)thread->colour_count,
                      thread->colour_count == 1 ? "colour" : "colours");
        put_quantity(&maker->words, maker->bench->units, QUANTITY_PERIOD, thread->period);
        buffer_text(&maker->words, ": each piece begins with the first colour at its first turn");
    }
    return maker_take(maker);
}

/* What is not known of it yet. */
static const char *to_write(const Job *job, const Thread *thread)
{
    if (thread_lot(job, thread))
        return thread->code ? "" : "code";
    return thread->code ? "lot" : "code and lot";
}

static void make_threads(SheetMaker *maker, Sheet *sheet)
{
    const Plan *plan = maker->plan;
    sheet->thread_count = plan->total_count;
    sheet->threads = arena_take_many(maker->arena, plan->total_count, sizeof *sheet->threads);
    sheet->thread_names = maker->names =
        arena_take_many(maker->arena, plan->job->thread_count, sizeof *maker->names);
    for (uint32_t i = 0; i < plan->total_count; i++) {
        const Thread *thread = plan->totals[i].thread;
        maker->names[thread->index] = visible(maker->arena, thread->name->bytes);
        sheet->threads[i] = (SheetThread){.name = maker->names[thread->index],
                                          .note = thread_note(maker, thread),
                                          .colour = thread->colour,
                                          .to_write = to_write(plan->job, thread),
                                          .thread = thread};
    }
}

/* --- head --- */

static bool is_measured_from_tip(const PlannedRod *rod)
{
    bool from_tip = false;
    for (uint32_t p = 0; p < rod->place_count; p++)
        from_tip |= rod->places[p].place->from_tip;
    return from_tip;
}

static bool any_from_tip(const Plan *plan)
{
    bool any = false;
    for (uint32_t r = 0; r < plan->rod_count; r++)
        any |= is_measured_from_tip(&plan->rods[r]);
    return any;
}

/* "0.5 mm". */
static const char *step_of(SheetMaker *maker, MeasuringTool tool)
{
    put_read(&maker->words, tool, QUANTITY_WIDTH, tool.step);
    return maker_take(maker);
}

static const char *orientation(SheetMaker *maker, const Sheet *sheet)
{
    const Bench *bench = maker->bench;
    return text_format(
        maker->arena,
        "The %s lies to your left, the %s to your right. The top of the blank %s as it turns. Positions count "
        "along the blank from the mark of each place, the way it is worked: by a rule, to the nearest %s, each from "
        "that mark, so that nothing adds up. Widths of turns are by callipers, to the nearest %s. Hours and degrees "
        "go round the blank clockwise as you look from the butt to the tip. The rod's line runs along the blank through the middle of "
        "the reel's foot; it is at 0 deg, and at 12 o'clock where nothing else is said to be.%s",
        bench->butt_left ? "butt" : "tip", bench->butt_left ? "tip" : "butt",
        bench->toward_you ? "comes toward you" : "goes away from you", sheet->rule, sheet->callipers,
        any_from_tip(maker->plan) ? " The bare tip is the end of the blank itself: a tip-top stands out beyond it."
                                  : "");
}

static void make_head(SheetMaker *maker, Sheet *sheet)
{
    const Job *job = maker->plan->job;
    const Text *title = job->about.title ? job->about.title : job->rod_count ? job->rods[0].title : NULL;
    sheet->title = title ? visible(maker->arena, title->bytes) : "Wraps";
    sheet->author = job->about.author ? visible(maker->arena, job->about.author->bytes) : "";
    sheet->pattern_mark = pattern_mark(maker->arena, job->pattern_hash);
    sheet->units = quantity_unit(maker->bench->callipers.system, QUANTITY_WIDTH);
    sheet->rule = step_of(maker, maker->bench->rule);
    sheet->callipers = step_of(maker, maker->bench->callipers);
    sheet->orientation = orientation(maker, sheet);
    while (caution(sheet->caution_count)) {
        sheet->cautions[sheet->caution_count] = caution(sheet->caution_count);
        sheet->caution_count++;
    }
}

/* --- the key --- */

/* With its closing NUL, so that texts cannot run into one another. */
static void hash_text(uint64_t *key, const char *text) { *key = hash_bytes(*key, text, strlen(text) + 1); }

static void hash_rod(uint64_t *key, const SheetRod *rod)
{
    hash_text(key, rod->title);
    for (uint32_t i = 0; i != rod->section_count; i++)
        if (rod->sections[i].heading)
            hash_text(key, rod->sections[i].heading);
    for (uint32_t i = 0; i < rod->note_count; i++) {
        hash_text(key, rod->notes[i].name);
        hash_text(key, rod->notes[i].words);
    }
    for (uint32_t i = 0; i < rod->cut_count; i++) {
        hash_text(key, rod->cuts[i].label);
        hash_text(key, rod->cuts[i].what);
        hash_text(key, rod->cuts[i].length);
    }
    for (uint32_t i = 0; i < rod->step_count; i++) {
        hash_text(key, rod->steps[i].says);
        hash_text(key, rod->steps[i].note);
    }
    for (uint32_t i = 0; i < rod->action_count; i++) {
        const SheetAction *action = &rod->actions[i];
        const char *const texts[] = {action->says,  action->detail, action->caution,
                                     action->where, action->count,  action->clock};
        for (size_t t = 0; t < sizeof texts / sizeof *texts; t++)
            hash_text(key, texts[t]);
    }
}

/* The same steps may come of other widths. */
static void hash_measured(uint64_t *key, const Job *job)
{
    for (uint32_t i = 0; i < job->measured.count; i++)
        *key = hash_bytes(*key, &job->measured.items[i].width, sizeof job->measured.items[i].width);
}

uint64_t sheet_key(const Sheet *sheet)
{
    uint64_t key = HASH_START;
    hash_measured(&key, sheet->bench->plan->job);
    hash_text(&key, sheet->pattern_mark);
    hash_text(&key, sheet->orientation);
    for (uint32_t i = 0; i < sheet->thread_count; i++)
        hash_text(&key, sheet->threads[i].name);
    for (uint32_t i = 0; i < sheet->mishap_count; i++) {
        hash_text(&key, sheet->mishaps[i].was);
        hash_text(&key, sheet->mishaps[i].now);
        hash_text(&key, sheet->mishaps[i].other);
    }
    for (uint32_t i = 0; i < sheet->rod_count; i++)
        hash_rod(&key, &sheet->rods[i]);
    return key;
}

/* --- all --- */

static void make_rod(SheetMaker *maker, const BenchRod *bench, SheetRod *rod)
{
    uint32_t pieces = bench->rod->piece_count;
    maker->rod = bench;
    maker->labels = rod->labels = arena_take_many(maker->arena, pieces, sizeof *maker->labels);
    maker->told = arena_take_many(maker->arena, pieces, sizeof *maker->told);
    maker->gap_told = UINT32_MAX;
    maker->first_pass = NULL;
    maker->marked = maker->slid_on = false;
    maker->taped = NULL;
    maker->from_tip = is_measured_from_tip(bench->rod);
    maker->stands_round = stands_round(bench->rod);
    rod->title = bench->rod->rod->title ? visible(maker->arena, bench->rod->rod->title->bytes) : "";
    rod->bench = bench;
    sheet_parts(maker, rod);
    sheet_steps(maker, rod);
    sheet_cuts(maker, rod);
    sheet_sections(maker, rod);
    sheet_notes(maker, rod);
    sheet_cards(maker, rod);
    maker->numbered += rod->action_count;
    maker->numbered_steps += rod->step_count;
}

Sheet *sheet_make(Arena *arena, const BenchPlan *bench)
{
    Sheet *sheet = arena_take(arena, sizeof *sheet);
    SheetMaker maker = {
        .arena = arena, .plan = bench->plan, .bench = &bench->plan->job->bench, .kinds.known.arena = arena};
    buffer_start(&maker.words, arena);
    sheet->bench = bench;
    make_head(&maker, sheet);
    make_threads(&maker, sheet);
    sheet->rods = arena_take_many(arena, bench->rod_count, sizeof *sheet->rods);
    sheet->rod_count = bench->rod_count;
    for (uint32_t i = 0; i < bench->rod_count; i++)
        make_rod(&maker, &bench->rods[i], &sheet->rods[i]);
    sheet_mishaps(&maker, sheet);
    sheet_widths(&maker, sheet);
    sheet_begin_at(arena, sheet, 1);
    return sheet;
}
