#include "emit/emit.h"
#include "emit/findings/excerpt.h"
#include "base/line_map.h"
#include "base/visible.h"

#include <string.h>

/* Terminal escapes, or empty texts where no colour is wanted. */
typedef struct Palette {
    const char *severity[3], *strong, *faint, *plain;
} Palette;

static const Palette coloured = {.severity = {"\033[1;36m", "\033[1;33m", "\033[1;31m"}, /* note, warning, error */
                                 .strong = "\033[1m",
                                 .faint = "\033[36m",
                                 .plain = "\033[0m"};
static const Palette colourless = {.severity = {"", "", ""}, .strong = "", .faint = "", .plain = ""};

typedef struct Report {
    Buffer *out;
    LineMap *lines;
    const Palette *palette;
    int gutter; /* columns of the line numbers */
} Report;

static void put_repeated(Buffer *out, char sign, int count)
{
    for (int i = 0; i < count; i++)
        buffer_put(out, &sign, 1);
}

static void put_location(Report *report, Span span)
{
    LineColumn position = line_map_find(report->lines, span);
    buffer_text(report->out, visible(report->out->arena, line_map_source(report->lines, span)->path));
    buffer_format(report->out, ":%u:%u:", position.line, position.column);
}

static void put_mark(Report *report, const Mark *mark, char sign, const char *colour)
{
    Buffer *out = report->out;
    Excerpt excerpt = excerpt_of(out->arena, line_map_source(report->lines, mark->span), mark->span);
    buffer_format(out, "%*u | ", report->gutter, line_map_find(report->lines, mark->span).line);
    buffer_text(out, excerpt.text);
    buffer_format(out, "\n%*s | ", report->gutter, "");
    put_repeated(out, ' ', excerpt.underline);
    buffer_text(out, colour);
    put_repeated(out, sign, excerpt.width);
    if (*mark->label) {
        buffer_text(out, " ");
        buffer_text(out, visible(out->arena, mark->label));
    }
    buffer_text(out, report->palette->plain);
    buffer_text(out, "\n");
}

static void put_related(Report *report, const Finding *finding)
{
    uint32_t file = finding->at.span.file;
    for (unsigned i = 0; i < finding->related_count; i++) {
        const Mark *mark = &finding->related[i];
        if (mark->span.file != file) {
            buffer_format(report->out, "%*s in ", report->gutter, "");
            put_location(report, mark->span);
            buffer_text(report->out, "\n");
            file = mark->span.file;
        }
        put_mark(report, mark, '-', report->palette->faint);
    }
}

/* The gutter is as wide as the longest line number in it. */
static int gutter_of(Report *report, const Finding *finding)
{
    enum { LEAST = 5 };
    uint32_t most = line_map_find(report->lines, finding->at.span).line;
    for (unsigned i = 0; i < finding->related_count; i++) {
        uint32_t line = line_map_find(report->lines, finding->related[i].span).line;
        most = line > most ? line : most;
    }
    int digits = 1;
    while (most /= 10)
        digits++;
    return digits > LEAST ? digits : LEAST;
}

/* The edit without the blanks, line ends and commas that join it to what stands around it. */
static const char *bare_edit(Arena *arena, const char *text)
{
    static const char joints[] = " \n,";
    text += strspn(text, joints);
    size_t length = strlen(text);
    while (length && strchr(joints, text[length - 1]))
        length--;
    return text_format(arena, "%.*s", (int)length, text);
}

static void put_way_out(Report *report, const Finding *finding)
{
    Buffer *out = report->out;
    if (*finding->mend) {
        buffer_format(out, "%*s = mend: ", report->gutter, "");
        buffer_text(out, visible(out->arena, finding->mend));
        buffer_text(out, "\n");
    }
    const char *edit = finding->has_edit ? bare_edit(out->arena, finding->edit.text) : "";
    bool in_bench = strncmp(edit, "bench { ", 8) == 0; /* said in words as what stands within its braces */
    if (!in_bench && !strstr(finding->mend, edit)) {
        buffer_format(out, "%*s = write: ", report->gutter, "");
        buffer_text(out, visible(out->arena, edit));
        buffer_text(out, "\n");
    }
}

static void put_finding(Report *report, const Finding *finding)
{
    Buffer *out = report->out;
    const Palette *palette = report->palette;
    const char *colour = palette->severity[finding->severity];
    report->gutter = gutter_of(report, finding);
    buffer_text(out, palette->strong);
    put_location(report, finding->at.span);
    buffer_text(out, palette->plain);
    buffer_format(out, " %s%s[%s]%s: ", colour, severity_word(finding->severity), finding_code_text(finding->code),
                  palette->plain);
    buffer_text(out, visible(out->arena, finding->message));
    if (finding->times > 1)
        buffer_format(out, " (%u places like this)", finding->times);
    buffer_text(out, "\n");
    put_mark(report, &finding->at, '^', colour);
    put_related(report, finding);
    put_way_out(report, finding);
    buffer_text(out, "\n");
}

static void put_summary(Buffer *out, const Findings *findings)
{
    const uint32_t counts[] = {findings->errors, findings->warnings, findings->notes};
    const Severity severities[] = {SEVERITY_ERROR, SEVERITY_WARNING, SEVERITY_NOTE};
    const char *between = "";
    for (int i = 0; i < 3; i++) {
        if (!counts[i])
            continue;
        buffer_format(out, "%s%u %s%s", between, counts[i], severity_word(severities[i]),
                      counts[i] == 1 ? "" : "s");
        between = ", ";
    }
    if (findings->left_out)
        buffer_format(out, " (%u of them not shown)", findings->left_out);
    if (*between)
        buffer_text(out, "\n");
}

void emit_findings_text(Buffer *out, const Findings *findings, const Sources *sources, bool colour)
{
    Report report = {.out = out, .lines = line_map_make(out->arena, sources)};
    report.palette = colour ? &coloured : &colourless;
    for (uint32_t i = 0; i < findings->list.count; i++)
        put_finding(&report, &findings->list.items[i]);
    put_summary(out, findings);
}
