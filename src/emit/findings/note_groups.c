#include "emit/findings/note_groups.h"

#include "base/visible.h"

#include <string.h>

static bool about_one(const Finding *a, const Finding *b)
{
    bool of_rods = a->rod && b->rod;
    return of_rods ? strcmp(a->rod, b->rod) == 0 : a->rod == b->rod && a->at.span.file == b->at.span.file;
}

/* The notes about what the note number `first` is about, which is the first of them. */
typedef struct Group {
    const Findings *findings;
    const Finding *first;
    uint32_t count;
} Group;

static bool is_in(const Group *group, const Finding *finding)
{
    return finding->severity == SEVERITY_NOTE && about_one(group->first, finding);
}

static uint32_t count_of(const Group *group, FindingCode code)
{
    uint32_t count = 0;
    for (uint32_t i = 0; i < group->findings->list.count; i++) {
        const Finding *finding = &group->findings->list.items[i];
        count += finding->code == code && is_in(group, finding);
    }
    return count;
}

/* "a wrap that may drift from its width (T504, 4 times), ..." */
static void put_kinds(Buffer *out, const Group *group)
{
    const char *joint = "";
    for (FindingCode code = 0; code < FINDING_CODE_COUNT; code++) {
        uint32_t count = count_of(group, code);
        if (!count)
            continue;
        buffer_format(out, "%s%s (%s", joint, finding_title(code), finding_code_text(code));
        if (count > 1)
            buffer_format(out, ", %u times", (unsigned)count);
        buffer_text(out, ")");
        joint = ", ";
    }
}

static void put_group(Buffer *out, const Group *group, LineMap *lines)
{
    const Finding *first = group->first;
    Span at = first->at.span;
    buffer_text(out, visible(out->arena, line_map_source(lines, at)->path));
    if (group->count == 1) {
        LineColumn position = line_map_find(lines, at);
        buffer_format(out, ":%u:%u: %s: ", position.line, position.column, severity_word(SEVERITY_NOTE));
        buffer_text(out, visible(out->arena, first->message));
        buffer_format(out, " (%s)\n", finding_code_text(first->code));
        return;
    }
    buffer_format(out, ": %u notes", (unsigned)group->count);
    if (first->rod) {
        buffer_text(out, " on the rod \"");
        buffer_text(out, visible(out->arena, first->rod));
        buffer_text(out, "\"");
    }
    buffer_text(out, " (-v shows them): ");
    put_kinds(out, group);
    buffer_text(out, "\n");
}

void put_note_groups(Buffer *out, const Findings *findings, LineMap *lines)
{
    for (uint32_t i = 0; i < findings->list.count; i++) {
        Group group = {findings, &findings->list.items[i], 0};
        bool told = false;
        for (uint32_t j = 0; j < findings->list.count; j++) {
            bool is_one = is_in(&group, &findings->list.items[j]);
            group.count += is_one;
            told |= is_one && j < i;
        }
        if (group.first->severity != SEVERITY_NOTE || told)
            continue;
        put_group(out, &group, lines);
    }
}
