/* Words for what hands do with threads: laying, winding, standing, ending, trimming. */
#include "words/sheet_maker.h"
#include "words/trade_words.h"

static Buffer *words(SheetMaker *maker) { return &maker->words; }

static void say_of(SheetMaker *maker, const char *before, const Step *step, const char *after)
{
    buffer_text(words(maker), before);
    put_pieces(maker, step->piece, step->piece_count);
    buffer_text(words(maker), after);
}

static int direction_of(const SheetMaker *maker, const Step *step)
{
    return place_of_step(maker, step)->direction;
}

/* "toward the tip, to your right". */
static void put_direction(SheetMaker *maker, const Step *step)
{
    int direction = direction_of(maker, step);
    buffer_format(words(maker), "toward the %s, to your %s", toward_word(direction), side_word(maker, direction));
}

static const char *turns_word(uint64_t turns) { return turns == 1 ? "turn" : "turns"; }
static const char *it_or_them(const Step *step) { return step->piece_count == 1 ? "it" : "them"; }

static bool is_cut_piece(const SheetMaker *maker, const Step *step)
{
    return maker->rod->rod->pieces[step->piece].by_hand;
}

/* Where an end comes out that a loop draws back: at the first turn over the loop. */
static void put_way_out(SheetMaker *maker, uint64_t loop_at)
{
    if (loop_at)
        buffer_format(words(maker), "between turns %llu and %llu of the layer", (unsigned long long)loop_at,
                      (unsigned long long)loop_at + 1);
    else
        buffer_text(words(maker), "before the first turn of the layer");
}

/* --- laying --- */

void say_start(SheetMaker *maker, const Step *step)
{
    bool spacer = maker->rod->rod->pieces[step->piece].spacer;
    say_of(maker, spacer ? "Start the spacer " : "Start ", step, " over its own tag");
}

/* The first three turns: P. D. Frazer, The Angler's Workshop I: Rodmaking for Beginners (1908), p. 158. */
void explain_start(SheetMaker *maker, const Step *step)
{
    buffer_text(words(maker), "Lay its tag along the blank ");
    put_direction(maker, step);
    buffer_text(words(maker), ". Make the first three turns as tight as possible.");
    if (layer_of_step(maker, step)->crosswrap)
        explain_end_band(maker, step);
}

void say_lay_in(SheetMaker *maker, const Step *step)
{
    say_of(maker, "Lay in ", step, ": its tag along the blank, under the next turns");
}

void explain_lay_in(SheetMaker *maker, const Step *step)
{
    buffer_text(words(maker), "Its long end points ");
    put_direction(maker, step);
    buffer_text(words(maker), is_cut_piece(maker, step) ? ": tape it to the blank, clear of the turns. "
                                                        : ": let its spool go round with the blank. ");
    buffer_format(words(maker),
                  "The next %u %s lie over the tag; it is only lightly held until its own first turns.",
                  (unsigned)step->turns, turns_word(step->turns));
}

void say_loop(SheetMaker *maker, const Step *step)
{
    say_of(maker, "Lay a loop for ", step, ", eye toward the ");
    buffer_text(words(maker), toward_word(direction_of(maker, step)));
}

void explain_loop(SheetMaker *maker, const Step *step)
{
    int direction = direction_of(maker, step);
    buffer_format(words(maker), "Its eye to your %s, beyond the last of these turns; its two ends to your %s. ",
                  side_word(maker, direction), side_word(maker, -direction));
    buffer_format(words(maker), "%u %s will lie over it. The end of ", (unsigned)step->turns,
                  turns_word(step->turns));
    put_pieces(maker, step->piece, step->piece_count);
    buffer_text(words(maker), " comes out ");
    put_way_out(maker, step->layer_count);
    buffer_text(words(maker), ".");
}

/* --- changing --- */

void say_take_up(SheetMaker *maker, const Step *step) { say_of(maker, "Take up ", step, ""); }

/* Told the first time that the piece comes back. */
static void explain_coming_back(SheetMaker *maker, const Step *step)
{
    PieceTold *piece = &maker->told[step->piece];
    if (piece->came_back)
        return;
    piece->came_back = true;
    buffer_format(words(maker),
                  is_cut_piece(maker, step) ? "Take the tape off and draw %s tight" : "Draw %s tight",
                  it_or_them(step));
    buffer_format(words(maker), ": the turns made meanwhile lie over %s.", it_or_them(step));
}

/* Three turns: as for explain_start. A finger on the tag: common practice, no source. */
void explain_take_up(SheetMaker *maker, const Step *step)
{
    if (step->state.before == PIECE_STANDING)
        explain_coming_back(maker, step);
    else
        buffer_format(words(maker),
                      "Keep a finger on %s until three turns are made, those as tight as possible: few "
                      "turns hold %s.",
                      step->piece_count == 1 ? "its tag" : "their tags", it_or_them(step));
}

void say_stand(SheetMaker *maker, const Step *step)
{
    say_of(maker, "Let ", step, " stand: ");
    if (is_cut_piece(maker, step))
        buffer_format(words(maker), "tape %s to the blank", it_or_them(step));
    else
        buffer_text(words(maker),
                    step->piece_count == 1 ? "its spool rests, the blank too" : "the spools rest, the blank too");
}

void explain_stand(SheetMaker *maker, const Step *step)
{
    PieceTold *piece = &maker->told[step->piece];
    bool spool = !is_cut_piece(maker, step);
    if (!piece->stood) {
        buffer_format(words(maker), "Lay %s along the blank ", it_or_them(step));
        put_direction(maker, step);
        buffer_format(words(maker), ": the turns made meanwhile go over %s.", it_or_them(step));
    }
    if (spool)
        buffer_format(words(maker), "%sDo not turn the blank until %s taken up again%s", piece->stood ? "" : " ",
                      step->piece_count == 1 ? "it is" : "they are",
                      piece->stood ? "." : ": a spool cannot turn with it.");
    piece->stood = true;
}

/* What a step lays along the blank, for the next turns to lie over. */
static const char *const laid_parts[STEP_KIND_COUNT] = {[STEP_START] = "the tag of ",
                                                        [STEP_LAY_IN] = "the tag of ",
                                                        [STEP_LAY_END] = "the end of ",
                                                        [STEP_LAY_LOOP] = "the loop for "};

enum { MOST_NAMED_UNDER = 2 }; /* more that lies under the next turns is not named */

/* " over its tag", " over the end of navy 1 and its tag": what was laid since the last turns lies under these. */
static void put_over(SheetMaker *maker, const Step *step)
{
    uint32_t laid = step->state.laid;
    if (laid == 0)
        return;
    if (laid == step->state.own_tags && laid == step->piece_count) {
        buffer_text(words(maker), step->piece_count == 1 ? " over its tag" : " over their tags");
        return;
    }
    const Step *before = step;
    while (before > maker->rod->steps && before[-1].kind != STEP_WIND)
        before--;
    uint32_t lays = 0;
    for (const Step *each = before; each < step; each++)
        lays += laid_parts[each->kind] != NULL;
    if (lays > MOST_NAMED_UNDER || lays == 0) {
        buffer_text(words(maker), laid == 1 ? " over it" : " over all that is laid there");
        return;
    }
    const char *joint = " over ";
    for (; before < step; before++) {
        if (!laid_parts[before->kind])
            continue;
        bool own = before->kind == STEP_START && before->piece == step->piece;
        buffer_text(words(maker), joint);
        buffer_text(words(maker),
                    own ? step->piece_count == 1 ? "its tag" : "their tags" : laid_parts[before->kind]);
        if (!own)
            put_pieces(maker, before->piece, before->piece_count);
        joint = " and ";
    }
}

void say_wind(SheetMaker *maker, const Step *step)
{
    buffer_format(words(maker), "%s %u %s of ", step->by_hand ? "Wrap" : "Wind", (unsigned)step->turns,
                  turns_word(step->turns));
    say_of(maker, "", step, step->piece_count > 1 ? " together" : "");
    buffer_text(words(maker), step->by_hand ? " by hand" : "");
    put_over(maker, step);
    buffer_text(words(maker), step->by_hand ? ", blank still" : "");
}

void explain_wind(SheetMaker *maker, const Step *step) { put_fade(maker, step); }

/* --- ending --- */

void say_lay_end(SheetMaker *maker, const Step *step)
{
    say_of(maker, "Cut ", step,
           step->piece_count == 1 ? ", lay its end along the blank, under the next turns"
                                  : ", lay their ends along the blank, under the next turns");
}

void explain_lay_end(SheetMaker *maker, const Step *step)
{
    buffer_text(words(maker), "Hold the last turn with a finger and cut ");
    maker_cut(maker, maker->bench->free);
    buffer_text(words(maker), " from the blank. Lay the end ");
    put_direction(maker, step);
    buffer_format(words(maker), ": the next %u %s hold it.", (unsigned)step->turns, turns_word(step->turns));
}

void say_pull(SheetMaker *maker, const Step *step)
{
    uint32_t turns = step->state.covered;
    say_of(maker, "Cut ", step, ", end through the loop, draw it back under the last ");
    buffer_format(words(maker), "%u %s", (unsigned)turns, turns_word(turns));
}

void explain_pull(SheetMaker *maker, const Step *step)
{
    buffer_text(words(maker), "Hold the last turn with a finger, cut ");
    maker_cut(maker, maker->bench->free);
    buffer_text(words(maker), " from the blank, and draw the loop by its two ends, slowly. The end comes out ");
    put_way_out(maker, step->layer_count - step->state.covered);
    buffer_text(words(maker), ".");
}

static void explain_trim(SheetMaker *maker)
{
    buffer_text(words(maker),
                "Draw it tight and cut away from the blank: never press, never draw the blade round.");
}

void say_trim_tag(SheetMaker *maker, const Step *step) { say_of(maker, "Trim the tag of ", step, ""); }

void explain_trim_tag(SheetMaker *maker, const Step *step)
{
    buffer_format(words(maker), "%u turns hold it. ", (unsigned)step->state.covered);
    explain_trim(maker);
}

void say_trim_end(SheetMaker *maker, const Step *step) { say_of(maker, "Trim the end of ", step, ""); }

void explain_trim_end(SheetMaker *maker, const Step *step)
{
    (void)step;
    explain_trim(maker);
}

void say_take_spacer(SheetMaker *maker, const Step *step) { say_of(maker, "Unwind the spacer ", step, ""); }

void explain_take_spacer(SheetMaker *maker, const Step *step)
{
    (void)step;
    buffer_text(words(maker),
                "Turn the blank back and unwind it from its last turn to its first, tag and end with it. "
                "Its even gap stays.");
}
