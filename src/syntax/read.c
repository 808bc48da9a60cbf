/* The room's entry: one source to one tree. */
#include "syntax/reader.h"

#include "parser.h"

/* `reported`: that there is one, which could not be read. */
static void check_edition(Reader *reader, bool reported)
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
    if (reader->tree->edition || reported)
        return;
    Finding *finding = finding_add(findings, FINDING_EDITION_MISSING, (Span){0, 0, reader->tree->file},
                                   "the file does not say its edition; edition 1 is taken");
    finding_mend(findings, finding, "write `edition 1` as the first line");
    finding_edit(findings, finding, (Span){0, 0, reader->tree->file}, "edition 1\n");
}

static Reader *reader_start(Arena *arena, Texts *texts, const Source *source, uint32_t file, Findings *findings)
{
    arena->dense = true;
    Reader *reader = arena_take(arena, sizeof *reader);
    *reader = (Reader){.arena = arena,
                       .texts = texts,
                       .findings = findings,
                       .source = source,
                       .tree = arena_take(arena, sizeof *reader->tree),
                       .flags = TOKEN_FIRST_ON_LINE,
                       .mark = HASH_START,
                       .words = HASH_START,
                       .told = findings->told};
    reader->tree->file = file;
    return reader;
}

static void make_room(Reader *reader, uint32_t room)
{
    Tokens *tokens = &reader->tokens;
    tokens->room = room;
    tokens->kinds = arena_take(reader->arena, room);
    tokens->details = arena_take(reader->arena, room);
    tokens->starts = arena_take_many(reader->arena, room, sizeof *tokens->starts);
    tokens->ends = arena_take_many(reader->arena, room, sizeof *tokens->ends);
}

/* The token given last stays before the next ones, since it may have to be looked at again; before the first one
 * stands none (kind 0, the end of the file). */
void scan_on(Reader *reader)
{
    Tokens *tokens = &reader->tokens;
    if (tokens->count) {
        tokens->kinds[0] = tokens->kinds[tokens->count - 1];
        tokens->details[0] = tokens->details[tokens->count - 1];
    }
    tokens->count = reader->position = 1;
    scan(reader);
}

/* For texts without faults, as most are. Returns false if there is anything to find fault with: whatever the
 * careful reading looks for besides what the grammar forbids must be seen here (braces out of balance are no
 * grammar). */
static bool read_quickly(Reader *reader)
{
    /* So few tokens at a time stay in the processor's nearest memory. */
    enum { WINDOW = 1024 };
    make_room(reader, WINDOW);
    return quick_parse(reader) == 0 && reader->deepest <= LIMIT_NESTING && !reader->amended
           && reader->findings->told == 0 && !reader->findings->untold;
}

static void read_carefully(Reader *reader)
{
    enum { ENDS = 4 }; /* what the scanner keeps free */
    make_room(reader, reader->source->length + ENDS);
    scan(reader);
    bool read = parser_parse(reader) == 0;
    /* What does not fit is skipped or mended so that the rest can be read. */
    Findings *findings = reader->findings;
    if (!read || reader->amended)
        reader->tree->cause =
            cause_mark(findings, findings_since(findings, reader->told), reader_span(reader, reader->given));
    /* An edition that could not be read is reported for that. */
    if (read)
        check_edition(reader, reader->tokens.kinds[0] == EDITION);
}

Tree *syntax_read(Arena *arena, Texts *texts, const Sources *sources, uint32_t file, Findings *findings)
{
    const Source *source = &sources->list.items[file];
    Arena *reading = arena_child(arena);
    Findings unheard;
    findings_start_unheard(&unheard, findings);
    Reader *reader = reader_start(reading, texts, source, file, &unheard);
    if (read_quickly(reader)) {
        reader->findings = findings;
        check_edition(reader, false);
    } else { /* all is forgotten, and begins again */
        arena_clear(reading);
        reader = reader_start(reading, texts, source, file, findings);
        read_carefully(reader);
    }
    return reader->tree;
}

bool reads_quickly(Arena *arena, const Findings *findings, const char *text, uint32_t length)
{
    Texts texts;
    Findings unheard;
    Source source = {"", "", text, length};
    texts_start(&texts, arena);
    findings_start_unheard(&unheard, findings);
    return read_quickly(reader_start(arena, &texts, &source, 0, &unheard));
}
