/* What the replay finds wrong becomes a finding with the place and a way out. */
#include "bench/bench.h"

/* What to do about each verdict. */
static const char *const ways_out[] = {
    [REPLAY_LAWFUL] = "",
    [REPLAY_TRIMMED_UNBOUND] = "let more turns follow before the wrap ends, or lower `bind` in bench { }",
    [REPLAY_RELIED_UNBOUND] = "wind more turns before this thread comes in",
    [REPLAY_SPOOL_STANDS] = "let one of the two threads come in by a fade or an inlay, as a cut piece",
    [REPLAY_LOOP_TOO_SHORT] = "let the wrap have more turns, or lower `loop` and `final` in bench { }",
    [REPLAY_THREAD_LEFT] = "let more turns follow before the wrap ends",
    [REPLAY_STRAND_LOST] =
        "part the wrap with a gap before this statement, and report the file: it shows a fault of turnlay",
    [REPLAY_TURNS_DIFFER] = "report the file: it shows a fault of turnlay",
    [REPLAY_LENGTH_DIFFERS] = "report the file: it shows a fault of turnlay",
    [REPLAY_TOO_MANY_SPOOLS] = "mount another spool holder and say so in bench { }",
};

static void report(Arena *arena, const BenchRod *rod, Replay replay, const Bench *bench, Findings *findings)
{
    Span span = replay.step < rod->step_count ? rod->steps[replay.step].span : rod->rod->rod->span;
    const char *thread = replay.piece == NO_PIECE
                             ? ""
                             : text_format(arena, "%s: ", rod->rod->pieces[replay.piece].thread->name->bytes);
    Finding *finding = finding_add(findings, FINDING_NOT_LAWFUL, span, "this cannot be worked at the bench: %s%s",
                                   thread, verdict_words(replay.verdict));
    if (replay.verdict == REPLAY_TOO_MANY_SPOOLS)
        finding_label(findings, finding, "%s spools feed it; the bench has %s holders",
                      show_number(arena, replay.got, 0), show_number(arena, replay.needed, 0));
    else if (replay.needed > 0)
        finding_label(findings, finding, "%s wanted, %s there", show_number(arena, replay.needed, 3),
                      show_number(arena, replay.got, 3));
    finding_mend(findings, finding, "%s", ways_out[replay.verdict]);
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
        finding_edit(findings, finding, bench->span, "\nbench { holders: %u }", holders);
}

void bench_prove(Arena *arena, const BenchPlan *made, Findings *findings)
{
    const Bench *bench = &made->plan->job->bench;
    for (uint32_t i = 0; i < made->rod_count; i++) {
        Replay replay = replay_steps(arena, &made->rods[i], bench);
        if (replay.verdict != REPLAY_LAWFUL)
            report(arena, &made->rods[i], replay, bench, findings);
    }
}
