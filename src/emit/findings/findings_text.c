/* Findings for people: `path:line:column: severity: message`, as the GNU Coding Standards, "Formatting Error
 * Messages", have it, so that editors find the place; below it the line as it is written, others that matter, and
 * what it should be. */
#include "emit/emit.h"
#include "emit/findings/edited_lines.h"
#include "emit/findings/excerpt.h"
#include "emit/findings/note_groups.h"
#include "base/line_map.h"
#include "base/visible.h"

#include <string.h>

/* Terminal escapes, or empty texts where no colour is wanted. */
typedef struct Palette {
    const char *severity[3], *strong, *plain;
} Palette;

static const Palette coloured = {.severity = {"\033[1;36m", "\033[1;33m", "\033[1;31m"}, /* note, warning, error */
                                 .strong = "\033[1m",
                                 .plain = "\033[0m"};
static const Palette colourless = {.severity = {"", "", ""}, .strong = "", .plain = ""};

typedef struct Report {
    Buffer *out;
    LineMap *lines;
    const Palette *palette;
    uint32_t file, line; /* shown last; line 0: none yet of this finding */
} Report;

/* The marks around a place. */
#define OPENING "\xc2\xab"
#define CLOSING "\xc2\xbb"

static uint32_t line_of(const Report *report, Span span) { return line_map_find(report->lines, span).line; }

/* The line of its last character. */
static uint32_t last_line_of(const Report *report, Span span)
{
    uint32_t last = span.end > span.start ? span.end - 1 : span.start;
    return line_of(report, (Span){last, last, span.file});
}

/* Every row below a finding's first begins with what it is; those that go on with it stand under it. */
static void put_name(Report *report, const char *name)
{
    buffer_text(report->out, "    ");
    buffer_column(report->out, name, 8);
    buffer_text(report->out, " ");
}

static void put_words(Report *report, const char *name, const char *words)
{
    put_name(report, name);
    buffer_text(report->out, visible(report->out->arena, words));
    buffer_text(report->out, "\n");
}

/* The place of an excerpt between its marks. */
static void put_excerpt(Report *report, const Excerpt *excerpt, const char *colour)
{
    Arena *arena = report->out->arena;
    excerpt_put(report->out, excerpt, text_format(arena, "%s" OPENING, colour),
                text_format(arena, CLOSING "%s", *colour ? report->palette->plain : ""));
}

/* The line in which a place starts; below it the words that belong to the place. */
static void put_place(Report *report, const char *name, const Mark *mark, const char *colour)
{
    Span span = mark->span;
    Excerpt excerpt = excerpt_of(line_map_source(report->lines, span), span);
    put_name(report, name);
    put_excerpt(report, &excerpt, colour);
    buffer_text(report->out, "\n");
    report->line = line_of(report, span);
    uint32_t last = last_line_of(report, span);
    const char *down = last > report->line ? text_format(report->out->arena, "down to line %u", last) : "";
    const char *between = *down && *mark->label ? "; " : "";
    if (*down || *mark->label)
        put_words(report, "", text_format(report->out->arena, "%s%s%s", down, between, mark->label));
}

/* Another place in the line that was shown last: it alone, and its words. */
static void put_part(Report *report, const Mark *mark)
{
    Excerpt excerpt = excerpt_of(line_map_source(report->lines, mark->span), mark->span);
    excerpt.start = excerpt.from;
    excerpt.end = excerpt.to < excerpt.end ? excerpt.to : excerpt.end;
    put_name(report, "");
    put_excerpt(report, &excerpt, report->palette->strong);
    buffer_text(report->out, *mark->label ? ": " : "");
    buffer_text(report->out, visible(report->out->arena, mark->label));
    buffer_text(report->out, "\n");
}

static bool is_shown_last(const Report *report, Span span)
{
    return span.file == report->file && line_of(report, span) == report->line;
}

/* A place other than the finding's own: the number of its line is said, and its file where that is another. */
static void put_other_place(Report *report, const Mark *mark)
{
    if (is_shown_last(report, mark->span)) {
        put_part(report, mark);
        return;
    }
    if (mark->span.file != report->file)
        put_words(report, "file", line_map_source(report->lines, mark->span)->path);
    report->file = mark->span.file;
    const char *name = text_format(report->out->arena, "line %u", line_of(report, mark->span));
    put_place(report, name, mark, report->palette->strong);
}

/* Whether the line that an edit begins in is in sight: it is the finding's own, or the one shown last. */
static bool is_in_sight(const Report *report, const Finding *finding, Span span)
{
    const Span at = finding->at.span;
    return is_shown_last(report, span) || (span.file == at.file && line_of(report, span) == line_of(report, at));
}

/* Whether the words say no more than what is written in the line anyway: "write `6 turns`". */
static bool says_the_edit(const Finding *finding)
{
    static const char write[] = "write ", joints[] = " \n,";
    const char *text = finding->edit.text + strspn(finding->edit.text, joints), *words = finding->mend;
    size_t length = strlen(text), left = strlen(words);
    while (length && strchr(joints, text[length - 1]))
        length--;
    if (strncmp(words, write, sizeof write - 1) != 0)
        return false;
    words += sizeof write - 1;
    left -= sizeof write - 1;
    if (left > 1 && words[0] == '`' && words[left - 1] == '`') {
        words++;
        left -= 2;
    }
    return left == length && memcmp(words, text, length) == 0;
}

/* The lines that the edit touches, as they will be. */
static void put_edit(Report *report, const Finding *finding)
{
    Buffer *out = report->out;
    const Palette *palette = report->palette;
    const Mark at = {finding->edit.span, ""};
    if (!is_in_sight(report, finding, at.span))
        put_other_place(report, &at);
    EditedLines edited = edited_lines_of(out->arena, line_map_source(report->lines, at.span), &finding->edit);
    bool several = last_line_of(report, at.span) > line_of(report, at.span);
    if (!edited.count)
        put_words(report, "write", several ? "(take these lines out)" : "(take the line out)");
    for (unsigned i = 0; i < edited.count; i++) {
        const Excerpt *line = &edited.lines[i];
        bool is_new = line->to > line->from;
        put_name(report, i ? "" : "write");
        excerpt_put(out, line, is_new ? palette->strong : "", is_new ? palette->plain : "");
        buffer_text(out, "\n");
    }
    if (edited.more)
        put_words(report, "", "...");
}

static void put_head(Report *report, const Finding *finding)
{
    Buffer *out = report->out;
    LineColumn position = line_map_find(report->lines, finding->at.span);
    buffer_text(out, visible(out->arena, line_map_source(report->lines, finding->at.span)->path));
    buffer_format(out, ":%u:%u: %s%s%s: ", position.line, position.column,
                  report->palette->severity[finding->severity], severity_word(finding->severity),
                  report->palette->plain);
    buffer_text(out, visible(out->arena, finding->message));
    buffer_format(out, " (%s", finding_code_text(finding->code));
    if (finding->times > 1)
        buffer_format(out, ", %u places like this", finding->times);
    buffer_text(out, ")\n");
}

static void put_finding(Report *report, const Finding *finding)
{
    const Span at = finding->at.span;
    put_head(report, finding);
    report->file = at.file;
    report->line = 0;
    if (at.end || *finding->at.label) /* else it is about the whole file */
        put_place(report, "written", &finding->at, report->palette->severity[finding->severity]);
    for (unsigned i = 0; i < finding->related_count; i++)
        put_other_place(report, &finding->related[i]);
    if (*finding->mend && !(finding->has_edit && says_the_edit(finding)))
        put_words(report, "mend", finding->mend);
    if (finding->has_edit)
        put_edit(report, finding);
    buffer_text(report->out, "\n");
}

/* How many there are, of those that are shown; a group's line has its own count. */
static void put_summary(Buffer *out, const Findings *findings, FindingsShown shown)
{
    int severities_shown = shown == SHOW_ERRORS ? 1 : shown == SHOW_GROUPED ? 2 : 3;
    const uint32_t counts[] = {findings->errors, findings->warnings, findings->notes};
    const Severity severities[] = {SEVERITY_ERROR, SEVERITY_WARNING, SEVERITY_NOTE};
    const char *between = "";
    for (int i = 0; i < severities_shown; i++) {
        if (!counts[i])
            continue;
        buffer_format(out, "%s%u %s%s", between, counts[i], severity_word(severities[i]),
                      counts[i] == 1 ? "" : "s");
        between = ", ";
    }
    if (findings->left_out && *between)
        buffer_format(out, " (%u of them not shown)", findings->left_out);
    if (*between)
        buffer_text(out, "\n");
}

void emit_findings_text(Buffer *out, const Findings *findings, const Sources *sources, FindingsShown shown,
                        bool colour)
{
    Report report = {.out = out, .lines = line_map_make(out->arena, sources)};
    report.palette = colour ? &coloured : &colourless;
    for (uint32_t i = 0; i < findings->list.count; i++) {
        const Finding *finding = &findings->list.items[i];
        bool in_group = shown == SHOW_GROUPED && finding->severity == SEVERITY_NOTE;
        if (finding_is_shown(finding, shown) && !in_group)
            put_finding(&report, finding);
    }
    if (shown == SHOW_GROUPED)
        put_note_groups(out, findings, report.lines);
    put_summary(out, findings, shown);
}
