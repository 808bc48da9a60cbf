/* What the replay finds wrong becomes a finding with the place and a way out. */
#include "bench/bench.h"

#include "base/table.h"

#define OUR_FAULT "this is a bug in turnlay: please report it with this file"
/* What to do about each verdict. */
#define WAYS_OUT(X)                                                                                               \
    X(LAWFUL, "")                                                                                                 \
    X(TRIMMED_UNBOUND, "let more turns follow before the wrap ends, or lower `bind` in bench { }")                \
    X(RELIED_UNBOUND, "wind more turns before this thread comes in")                                              \
    X(SPOOL_STANDS, "let one of the two threads come in by a fade or an inlay, as a cut piece")                   \
    X(HANDS_FULL, OUR_FAULT)                                                                                      \
    X(UNHELD, OUR_FAULT)                                                                                          \
    X(PASS_BROKEN, OUR_FAULT)                                                                                     \
    X(PACK_FIRST, OUR_FAULT)                                                                                      \
    X(GAP_PACKED, OUR_FAULT)                                                                                      \
    X(TAPED_OVER, OUR_FAULT)                                                                                      \
    X(TAPE_LEFT, OUR_FAULT)                                                                                       \
    X(GUIDE_ON, OUR_FAULT)                                                                                        \
    X(LOOP_TOO_SHORT, "let the wrap have more turns, or lower `loop` and `final` in bench { }")                   \
    X(THREAD_LEFT, "let more turns follow before the wrap ends")                                                  \
    X(STRAND_LOST, "split the wrap with a gap before this statement; " OUR_FAULT)                                 \
    X(TURNS_DIFFER, OUR_FAULT)                                                                                    \
    X(LENGTH_DIFFERS, OUR_FAULT)                                                                                  \
    X(TOO_MANY_SPOOLS, "mount another spool holder and write `holders:` in bench { }")                            \
    X(TOO_MANY_BOBBINS, OUR_FAULT)                                                                                \
    X(OUT_OF_ORDER, OUR_FAULT)                                                                                    \
    X(PASSES_DIFFER, OUR_FAULT)                                                                                   \
    X(MARKS_MISSED, OUR_FAULT)                                                                                    \
    X(WAY_ROUND, OUR_FAULT)                                                                                       \
    X(NOT_BESIDE, OUR_FAULT)

static const char *const ways_out[VERDICT_COUNT] = {
#define X(name, words) [REPLAY_##name] = words,
    WAYS_OUT(X)
#undef X
};
_Static_assert(TABLE_ROWS(WAYS_OUT) == VERDICT_COUNT, "every verdict needs its way out");

/* What holds a crosswrap's passes when they are cut are its end bands. */
static const char *way_out(Replay replay)
{
    bool cuts_passes = replay.verdict == REPLAY_TRIMMED_UNBOUND && replay.kind == ACTION_TAKE_ENDS;
    return cuts_passes ? "give `ends` more turns, or lower `final` in bench { }" : ways_out[replay.verdict];
}

/* What is wanted and what is there, where the verdict has numbers. A clock of 0 is wanted like any other. */
static void label_numbers(Findings *findings, Finding *finding, Replay replay)
{
    bool degrees = replay.verdict == REPLAY_MARKS_MISSED || replay.verdict == REPLAY_WAY_ROUND;
    const char *needed = show_number(findings->words, replay.needed, 3),
               *got = show_number(findings->words, replay.got, 3);
    if (replay.verdict == REPLAY_TOO_MANY_SPOOLS)
        return; /* its message has them */
    if (replay.verdict == REPLAY_PASSES_DIFFER)
        finding_label(findings, finding, "it should be pass %s and is pass %s", needed, got);
    else if (degrees && (replay.needed > 0 || replay.got > 0))
        finding_label(findings, finding, "it should be %s deg and is %s deg", needed, got);
    else if (replay.needed > 0)
        finding_label(findings, finding, "it should be %s and is %s", needed, got);
}

static const char *what_is_wrong(const PlannedRod *rod, Replay replay, Arena *words)
{
    if (replay.verdict == REPLAY_TOO_MANY_SPOOLS)
        return text_format(words, "%u threads feed at once, and the bench has %u spool %s", (unsigned)replay.got,
                           (unsigned)replay.needed, replay.needed == 1 ? "holder" : "holders");
    const char *fault =
        text_format(words, "this cannot be worked at the bench: %s", verdict_words(replay.verdict));
    return replay.piece == NO_PIECE
               ? fault
               : text_format(words, "%s (%s)", fault, rod->pieces[replay.piece].thread->name->bytes);
}

void bench_report(const PlannedRod *rod, Replay replay, const Bench *bench, Findings *findings)
{
    if (replay.verdict == REPLAY_LAWFUL)
        return;
    Span span = replay.kind == ACTION_KIND_COUNT ? rod->rod->span : replay.span;
    Finding *finding =
        finding_add(findings, FINDING_NOT_LAWFUL, span, "%s", what_is_wrong(rod, replay, findings->words));
    label_numbers(findings, finding, replay);
    finding_mend(findings, finding, "%s", way_out(replay));
    if (replay.verdict != REPLAY_TOO_MANY_SPOOLS)
        return;
    /* The one thing that the bench itself can mend. */
    unsigned holders = (unsigned)replay.got;
    finding_mend(findings, finding, "mount %u spool holders and write `holders: %u` in bench { }", holders,
                 holders);
    Span written = bench->value_spans[BENCH_HOLDERS], inside = bench->span;
    inside.end = ++inside.start;
    if (written.end)
        finding_edit(findings, finding, written, "%u", holders);
    else if (bench->written)
        finding_edit(findings, finding, inside, " holders: %u,", holders);
    else
        finding_edit(findings, finding, bench->span,
                     bench->span.start == 0 ? "bench { holders: %u }\n" : "\nbench { holders: %u }", holders);
}
