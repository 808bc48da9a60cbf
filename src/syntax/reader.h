/* Inside the syntax room: what scanner, recovery and parser share. */
#ifndef TURNLAY_SYNTAX_READER_H
#define TURNLAY_SYNTAX_READER_H

#include "base/limits.h"
#include "syntax/syntax.h"

typedef struct Location {
    uint32_t start, end;
} Location;
typedef struct NodeList {
    Node *first, *last;
} NodeList;

/* What braces hold: declarations of a used file, a rod's places, a series' rows, options, stations or swaps, a
 * band's inlays, or statements. One that is missing stands in the list too, so that what closes it is known. */
typedef enum {
    BRACE_MODULE,
    BRACE_ROD,
    BRACE_SERIES,
    BRACE_FIELDS,
    BRACE_BAND,
    BRACE_BODY,
    BRACE_MISSING
} BraceKind;
typedef struct OpenBrace {
    uint32_t token;
    BraceKind kind;
} OpenBrace;

/* A brace that the text lacks, given to the parser before this token. */
typedef struct OwedBrace {
    uint32_t before;
    uint8_t token; /* LBRACE or RBRACE */
    uint8_t kind;  /* of an opening one: BraceKind */
    uint32_t next; /* of an opening one: where reading goes on; a sign in its place is stepped over */
} OwedBrace;
enum { OWED_MOST = 2 * LIMIT_NESTING };

/* The tokens of a file, in arrays: all of them, with the end of the file last, for a careful reading; for a quick
 * one those that are scanned already, and the one before. */
typedef struct Tokens {
    uint8_t *kinds;   /* as bison numbers them */
    uint8_t *details; /* Unit of a number, and flags */
    uint32_t *starts, *ends;
    uint32_t count, room;
} Tokens;
#define TOKEN_FIRST_ON_LINE 0x80
#define TOKEN_AFTER_FAULT 0x40 /* the scanner left something out before it */
#define TOKEN_UNIT 0x3f        /* the rest of the detail */

typedef struct Reader {
    Arena *arena;
    Texts *texts;
    Findings *findings;
    const Source *source;
    Tree *tree;
    Tokens tokens;
    uint32_t scanned;       /* bytes */
    uint32_t open, deepest; /* brackets and braces: not closed so far, and at one time */
    uint32_t series;        /* brackets and braces open in the braces of the outermost series; 0 outside of one */
    bool series_begins;     /* the next brace is a series' own */
    uint8_t options_of;     /* whose known options may come: USE, BLANK, BENCH or END for none */
    uint8_t flags;          /* of the token to be scanned next: TOKEN_FIRST_ON_LINE, TOKEN_AFTER_FAULT */
    uint64_t mark;          /* hash of the declarations read so far: of the file, or of the used one in braces */
    uint64_t words,
        words_before;  /* hash of the words since the last declaration: to the token given last, and before it */
    uint32_t hashed;   /* tokens that went into it (of a careful reading) */
    uint32_t position; /* token to deliver next */
    uint32_t given;    /* token delivered last */
    OpenBrace braces[LIMIT_NESTING];
    uint32_t brace_depth;
    uint32_t bracket_depth;    /* ( and [ */
    uint32_t close_owed;       /* braces to deliver that the text lacks */
    OwedBrace owed[OWED_MOST]; /* the next one last */
    uint32_t owed_count;
    uint32_t blocks_seen;    /* words that begin a block are looked at up to here */
    int32_t surplus;         /* closing braces less opening ones in the file, less those dropped or owed already */
    bool surplus_known;      /* it is counted when it is first asked for */
    bool panic;              /* skip to the next place where a statement can begin */
    bool comments_end;       /* no more comments of other languages are closed */
    uint64_t looked_through; /* tokens, for names that a text holds (known_names.c) */
    uint32_t mended_to;      /* behind what the phrase reported last takes in */
    uint32_t panic_at;       /* token that began the last panic */
    uint32_t last_sync;      /* where the parser took up again last */
    uint32_t misplaced_in;   /* 1 + braces open where something misplaced was told of last; 0 if nothing was */
    uint32_t misplaced_brace; /* the innermost of these braces */
    bool too_deep;
    bool amended; /* something was skipped, added or taken for another: the tree does not say what the text does */
    uint32_t first_length_at; /* where the length stands that tree->first_length is of */
    uint64_t told;            /* Findings.told when the text was begun */
    const uint64_t *openings; /* what phrases may begin with (phrase_match.c); NULL until one is looked for */
} Reader;

/* The two parsers of grammar/parser.y: 0 if the text was read to its end. The quick one stops at the first fault.
 */
int quick_parse(Reader *reader);
int parser_parse(Reader *reader);

/* Whether a text (with a NUL behind it) can be read; what is found fault with is forgotten. */
bool reads_quickly(Arena *arena, const Findings *findings, const char *text, uint32_t length);

/* Text to tokens, on from where it was left, up to the end or as many as there is room for; faults of single
 * characters, texts and numbers are reported here. */
void scan(Reader *reader);
/* For a quick reading: room for more tokens is made, and filled. */
void scan_on(Reader *reader);
/* The words of a declaration go into a hash as they are given to the parser. */
static inline void hash_given(Reader *reader, Location at)
{
    reader->words_before = reader->words;
    reader->words = hash_words(reader->words, reader->source->bytes + at.start, at.end - at.start);
}
/* The next token for the parser: repairs and skips what can be repaired and skipped. */
int next_token(Reader *reader, Location *location);
/* Called by the parser when a token does not fit; expected holds the kinds that would. */
void recover_from_token(Reader *reader, int unexpected, const int *expected, int expected_count);
/* The parser's own stack is full. */
void report_too_deep(Reader *reader);

/* A kind as people call it: `"band"` or `a name`. Lives in the parser, where the kinds are. */
const char *token_spelling(int kind);
Span reader_span(const Reader *reader, uint32_t token);

/* The unit that this word is another spelling of ("inches"), or UNIT_NONE. */
Unit unit_known_as(const char *word);
/* The same, or the unit that the word is nearest to. */
Unit unit_meant(const char *word);

/* "0.006 in" for 6 and "thou": a unit that the language writes as part of another; NULL if it is none. */
const char *scaled_unit(Arena *arena, const char *word, double number);

/* Node makers used by the grammar's actions. */
static inline Node *node_begin(Node *node, const Reader *reader, NodeKind kind, Location at)
{
    node->kind = (uint8_t)kind;
    node->span = (Span){at.start, at.end, reader->tree->file};
    return node;
}
static inline Node *node_make(Reader *reader, NodeKind kind, Location at)
{
    return node_begin(arena_take(reader->arena, sizeof(Node)), reader, kind, at);
}
static inline Node *node_leaf(Reader *reader, NodeKind kind, Location at)
{
    return node_begin(arena_take(reader->arena, NODE_LEAF), reader, kind, at);
}
/* Takes all of the kind out of the list and gives them, in their order. */
NodeList node_list_split(NodeList *list, NodeKind kind);
NodeList node_list_join(NodeList list, NodeList more);
/* In the place of what could not be read; its cause is the fault of the text told last. */
Node *node_broken(Reader *reader, Location at);
/* A unit of UNIT_UNKNOWN says that the scanner found a fault there. */
Node *node_number(Reader *reader, Unit unit, Location at);
Node *node_text(Reader *reader, Unit unit, Location place);
Node *node_colour(Reader *reader, Unit unit, Location at);
Node *node_per_unit(Reader *reader, Unit unit, Location at);
Node *node_name(Reader *reader, Location at);
Node *node_in_module(Reader *reader, Location module, Location name);
/* `label` is where the name and its colon stand, `at` all of it. */
Node *node_label(Reader *reader, NodeKind kind, Location label, Location at);
/* The words of this declaration (NULL if it is lost) are read, up to here or to the token `ahead`, if one was
 * looked at already: they go into the mark. */
void declaration_read(Reader *reader, const Node *declaration, const Location *ahead);
/* What comes now belongs to a used file. Gives the mark of what was read before, which goes on behind. */
uint64_t mark_begin(Reader *reader, const Location *ahead);
/* What is left of a declaration that could not be read: a broken node of its kind with its name, so that the
 * name is not unknown elsewhere; NULL if it is not known what was declared. */
Node *node_lost(Reader *reader, Location at);

#endif
