#include "check/rules.h"

#include <ctype.h>
#include <string.h>

static const Source *source_of(const Check *check, Span span)
{
    return &check->plan->job->sources->list.items[span.file];
}

const char *source_text(const Check *check, Span span)
{
    char *text = arena_take(check->findings->words, (size_t)(span.end - span.start) + 1);
    memcpy(text, source_of(check, span)->bytes + span.start, span.end - span.start);
    return text;
}

bool is_plain_quantity(const Check *check, Span span)
{
    const char *bytes = source_of(check, span)->bytes;
    if (span.end <= span.start || !isdigit((unsigned char)bytes[span.start]))
        return false;
    for (uint32_t i = span.start; i < span.end; i++)
        if (!isalnum((unsigned char)bytes[i]) && !strchr(" ./%", bytes[i]))
            return false;
    return true;
}

/* Adds `option: value` right after an opening brace. */
static void insert_after_brace(const Check *check, Finding *finding, Span brace, const char *option,
                               const char *value)
{
    const char *next = source_of(check, brace)->bytes + brace.start + 1;
    next += strspn(next, " \t\r\n");
    Span after = {brace.start + 1, brace.start + 1, brace.file};
    finding_edit(check->findings, finding, after, *next == '}' ? " %s: %s" : " %s: %s,", option, value);
}

static const char *const bench_options[BENCH_OPTION_COUNT] = {
#define X(name, word, ...) [BENCH_##name] = word,
    BENCH_TABLE(X, X, X)
#undef X
};

/* A line of its own: behind the edition, or else the first. */
static void insert_bench(const Check *check, Finding *finding, const char *option, const char *value)
{
    Span span = check->bench->span;
    finding_edit(check->findings, finding, span, span.start == 0 ? "bench { %s: %s }\n" : "\nbench { %s: %s }",
                 option, value);
}

bool has_error(const Check *check, Span span)
{
    for (uint32_t i = 0; i < check->findings->list.count; i++) {
        const Finding *other = &check->findings->list.items[i];
        if (other->severity == SEVERITY_ERROR && other->at.span.file == span.file
            && other->at.span.start < span.end && span.start < other->at.span.end)
            return true;
    }
    return false;
}

void edit_bench(const Check *check, Finding *finding, BenchOption option, const char *value)
{
    const Bench *bench = check->bench;
    if (has_error(check, bench->value_spans[option]))
        return;
    if (bench->value_spans[option].end)
        finding_edit(check->findings, finding, bench->value_spans[option], "%s", value);
    else if (bench->written)
        insert_after_brace(check, finding, bench->span, bench_options[option], value);
    else
        insert_bench(check, finding, bench_options[option], value);
}

bool edit_option(const Check *check, Finding *finding, Span name, Span written, const char *option,
                 const char *value)
{
    if (has_error(check, written))
        return true;
    if (written.start != name.start) {
        finding_edit(check->findings, finding, written, "%s: %s", option, value);
        return true;
    }
    const char *bytes = source_of(check, name)->bytes;
    uint32_t brace = name.end + (uint32_t)strspn(bytes + name.end, " \t\r\n");
    if (bytes[brace] != '{')
        return false;
    insert_after_brace(check, finding, (Span){brace, brace + 1, name.file}, option, value);
    return true;
}

static LengthWriting written_at(const Check *check, Span span, LengthWriting otherwise)
{
    size_t length;
    const char *text = source_at(check->plan->job->sources, span, &length);
    return written_as(text, length, otherwise);
}

LengthWriting writing_of(const Check *check, Span span)
{
    return written_at(check, span, source_writing(check->bench->units, QUANTITY_WIDTH));
}

const char *source_length_above(const Check *check, Span span, double mm)
{
    LengthWriting writing = written_at(check, span, print_writing(check->bench->units, QUANTITY_DIAMETER));
    return write_length(check->findings->words, writing, written_above(writing, mm));
}

const char *source_length_below(const Check *check, Span span, double mm)
{
    LengthWriting writing = written_at(check, span, print_writing(check->bench->units, QUANTITY_DIAMETER));
    return write_length(check->findings->words, writing, written_below(writing, mm));
}

const char *source_thread_above(const Check *check, Span span, double mm)
{
    LengthWriting writing = written_at(check, span, print_writing(check->bench->units, QUANTITY_THREAD));
    return write_length(check->findings->words, writing, written_above(writing, mm));
}
