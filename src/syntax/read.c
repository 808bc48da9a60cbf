/* The room's entry: one source to one tree. */
#include "syntax/reader.h"

#include "parser.h"

static void check_edition(Reader *reader)
{
    Findings *findings = reader->findings;
    for (Node *node = reader->tree->declarations; node; node = node->next) {
        if (node->kind != NODE_EDITION)
            continue;
        if (node == reader->tree->declarations) {
            reader->tree->edition = node;
            if (node->first->number == 1 && node->first->detail == UNIT_NONE)
                continue;
            Finding *finding =
                finding_add(findings, FINDING_EDITION_UNKNOWN, node->span, "this program knows edition 1 only");
            finding_mend(findings, finding, "write `edition 1`, or compile with a newer turnlay");
            finding_edit(findings, finding, node->span, "edition 1");
            continue;
        }
        Finding *finding =
            finding_add(findings, FINDING_NOT_HERE, node->span, "the edition stands first in a file, once");
        finding_mend(findings, finding, reader->tree->edition ? "take this one out" : "move it to the first line");
        if (reader->tree->edition)
            finding_edit(findings, finding, span_to_remove(reader->source, node->span), "%s", "");
        else
            reader->tree->edition = node;
    }
    /* An edition that could not be read is reported for that. */
    if (reader->tree->edition || reader->tree->tokens.kinds[0] == EDITION)
        return;
    Finding *finding = finding_add(findings, FINDING_EDITION_MISSING, (Span){0, 0, reader->tree->file},
                                   "the file does not say its edition; edition 1 is taken");
    finding_mend(findings, finding, "write `edition 1` as the first line");
    finding_edit(findings, finding, (Span){0, 0, reader->tree->file}, "edition 1\n");
}

/* Of the first length at or behind that token and before the offset, or UNIT_NONE. Leaves the token there. */
static Unit length_before(const Tokens *tokens, uint32_t *token, uint32_t offset)
{
    for (; *token < tokens->count && tokens->starts[*token] < offset; ++*token) {
        Unit unit = tokens->details[*token] & TOKEN_UNIT;
        if (tokens->kinds[*token] == NUMBER && unit_measure(unit) == MEASURE_LENGTH)
            return unit;
    }
    return UNIT_NONE;
}

/* What stands in the braces of a `use` is another file's. */
static Unit first_length(const Tree *tree)
{
    const Tokens *tokens = &tree->tokens;
    uint32_t token = 0;
    Unit unit = UNIT_NONE;
    for (const Node *node = tree->declarations; node && unit == UNIT_NONE; node = node->next) {
        if (node->kind != NODE_USE)
            continue;
        unit = length_before(tokens, &token, node->span.start);
        while (unit == UNIT_NONE && token < tokens->count && tokens->starts[token] < node->span.end)
            token++;
    }
    return unit == UNIT_NONE ? length_before(tokens, &token, UINT32_MAX) : unit;
}

static Reader *reader_start(Arena *arena, Texts *texts, const Sources *sources, uint32_t file, Findings *findings)
{
    Reader *reader = arena_take(arena, sizeof *reader);
    *reader = (Reader){.arena = arena,
                       .texts = texts,
                       .findings = findings,
                       .source = &sources->list.items[file],
                       .tree = arena_take(arena, sizeof *reader->tree),
                       .told = findings->told};
    reader->tree->file = file;
    scan(reader);
    return reader;
}

/* For texts without faults, as most are. Returns false if there is anything to find fault with: whatever the careful
 * reading looks for besides what the grammar forbids must be seen here (braces out of balance are no grammar). */
static bool read_quickly(Reader *reader)
{
    return reader->findings->told == 0 && reader->deepest <= LIMIT_NESTING && quick_parse(reader) == 0
           && reader->findings->told == 0;
}

static void read_carefully(Reader *reader)
{
    Findings *findings = reader->findings;
    bool read = parser_parse(reader) == 0;
    /* What does not fit is skipped or mended so that the rest can be read. */
    if (!read || reader->amended)
        reader->tree->cause =
            cause_mark(findings, findings_since(findings, reader->told), reader_span(reader, reader->given));
    if (read)
        check_edition(reader);
}

Tree *syntax_read(Arena *arena, Texts *texts, const Sources *sources, uint32_t file, Findings *findings)
{
    Arena *reading = arena_child(arena);
    Findings unheard;
    findings_start_unheard(&unheard, findings);
    Reader *reader = reader_start(reading, texts, sources, file, &unheard);
    if (read_quickly(reader)) {
        reader->findings = findings;
        check_edition(reader);
    } else { /* all is forgotten, and begins again */
        arena_clear(reading);
        reader = reader_start(reading, texts, sources, file, findings);
        read_carefully(reader);
    }
    reader->tree->first_length = first_length(reader->tree);
    return reader->tree;
}
