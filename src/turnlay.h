/* libturnlay: a compilation is one value. It reads nothing and writes nothing: the caller gives it the
 * file's text, then each further text that it wants, then asks for results.
 *
 *     Compilation *c = compilation_new(0);
 *     compilation_give(c, "harbour.lay", bytes, length);
 *     while ((want = compilation_want(c)).path) ... compilation_give or compilation_refuse
 *     if (compilation_finish(c) != COMPILED_OUT_OF_MEMORY) ... c->plan, c->findings
 *     compilation_free(c);
 */
#ifndef TURNLAY_H
#define TURNLAY_H

#include "bench/bench.h"

#define TURNLAY_VERSION "0.1.0"

/* COMPILED_WITH_LOSS: something of the file is left out and no finding says why: a fault of turnlay; its results
 * are not to be used. */
typedef enum { COMPILED, COMPILED_WITH_ERRORS, COMPILED_WITH_LOSS, COMPILED_OUT_OF_MEMORY } CompileResult;

typedef struct Compilation {
    Trap trap;
    Arena arena;
    Texts texts;
    Findings findings;
    Sources sources;
    Job *job;               /* NULL until finished */
    Plan *plan;             /* laid out as far as the findings allow */
    BenchPlan *bench;       /* steps, proven by replay; NULL if there are errors */
    uint32_t measured_step; /* see compilation_measure; 0: none */
    double measured_width;
    bool measured_refused;   /* that step does not measure the end of a band */
    struct Reading *reading; /* modules read so far */
    bool exhausted;
    bool lost; /* COMPILED_WITH_LOSS: at `lost_at`, or elsewhere too */
    Span lost_at;
} Compilation;

/* A `use` whose text is wanted next. path is NULL when nothing is wanted any more. */
typedef struct Want {
    const char *path; /* as written, without the ending: "std/trims" */
    const char *from; /* Source.path of the using file */
} Want;

/* NULL if there is no memory even for that. fail_at: the request for memory that shall fail, 0 for none (tests).
 */
Compilation *compilation_new(uint64_t fail_at);
/* The text of the file, then of each file wanted, in that order. The bytes are copied. */
void compilation_give(Compilation *compilation, const char *path, const char *bytes, size_t length);
Want compilation_want(Compilation *compilation);
/* The wanted file cannot be had: code is FINDING_USE_NOT_FOUND, FINDING_USE_OUTSIDE or FINDING_FILE_UNREADABLE;
 * why is a few words for people (where it was sought). */
void compilation_refuse(Compilation *compilation, FindingCode code, const char *why);
/* Before compilation_finish: a width measured at the bench, at a step of the sheet that asks for it (counted from
 * 1 through all rods). What is finished by then stays, the rest is planned again. Widths in mm. */
void compilation_measure(Compilation *compilation, uint32_t step, double width);
CompileResult compilation_finish(Compilation *compilation);
/* The file and all it uses as one text. Call after compilation_finish without errors. */
void compilation_fold(Compilation *compilation, Buffer *out);
void compilation_free(Compilation *compilation);

#endif
