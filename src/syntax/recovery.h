/* Between scanner and parser: what the files share that decide where reading goes on after a fault. */
#ifndef TURNLAY_SYNTAX_RECOVERY_H
#define TURNLAY_SYNTAX_RECOVERY_H

#include "syntax/reader.h"

enum {
    ENDS = 1, /* may be the last token of a statement */
    BEGINS_STATEMENT = 2,
    BEGINS_DECLARATION = 4,
    NAMES = 8,   /* a name of the user's stands after it */
    JOINS = 16,  /* could go on any value; not worth telling people about */
    WATCHED = 32 /* next_token looks closer */
};
/* What each kind of token may do, by kind. */
extern const uint8_t token_policy[];

static inline bool first_on_line(const Reader *reader, uint32_t token)
{
    return reader->tokens.details[token] & TOKEN_FIRST_ON_LINE;
}
/* The token in backquotes, for people; a long one is cut. */
const char *as_written(const Reader *reader, uint32_t token);
/* The token's text alone. */
const char *word_at(const Reader *reader, uint32_t token);

/* --- slips that are mended before the parser sees them (slip.c) --- */

/* A word where only a statement's first word can stand. Returns false if it is not known what was meant. */
bool mend_keyword(Reader *reader, uint32_t at);
/* A word behind a whole statement on its line, which could only begin another one as a call, and does not: what
 * was meant is reported before the parser takes the statement to be whole. Returns false if so. */
bool mend_stray_word(Reader *reader, uint32_t at);
/* A number's unit that is none is stepped over. Returns false if something else was meant, and reported. */
bool drop_unknown_unit(Reader *reader, uint32_t at);
/* Returns true if the number goes on behind a comma; the one behind it is taken for both. */
bool mend_decimal_comma(Reader *reader, uint32_t at);
/* A word of the language in the place of a name. */
void reserved_name(Reader *reader, uint32_t at);
/* The token after the statement or declaration that begins here, with its block. */
uint32_t after_statement(const Reader *reader, uint32_t at);

/* --- braces (brace.c) --- */

/* The innermost brace that is open; NULL if none is. */
const OpenBrace *innermost(const Reader *reader);
/* The innermost brace that is open around a token, not one that it is itself; NULL if none is. */
const OpenBrace *surrounding(const Reader *reader, uint32_t at);
/* Whether they are those of a rod that is like another. */
bool brace_holds_swaps(const Reader *reader, const OpenBrace *brace);
/* Closing braces less opening ones in the file, those aside that were dealt with. */
int32_t brace_surplus(Reader *reader);
/* A brace that stands twice is reported; true if so. */
bool opens_twice(Reader *reader, uint32_t at);
void open_brace(Reader *reader, uint32_t at);
/* Returns false if the brace closes nothing, or not what it should. */
bool close_brace(Reader *reader, uint32_t at);
/* The braces from `keep` up are not closed before this token: reported, and owed to the parser. */
void owe_braces(Reader *reader, uint32_t keep, uint32_t before);
/* Before these tokens some braces cannot be open: those missing are owed. The first returns false if the
 * declaration stands in the wrong place and is stepped over. */
bool check_declaration(Reader *reader, uint32_t at);
void check_place(Reader *reader, uint32_t at);
void check_band(Reader *reader, uint32_t at);

/* --- blocks (block.c) --- */

/* Looks whether the block of the word at `header` lacks its opening brace; then that is reported, and the brace
 * owed to the parser, with the closing one where that lacks, too. */
void mend_block(Reader *reader, uint32_t header);

/* Whether a brace is owed to the parser before this token. */
bool brace_owed(const Reader *reader, uint32_t before);

/* --- tokens that do not fit (unexpected_token.c) --- */

void report_unexpected_token(Reader *reader, uint32_t at, const int *expected, int count);

#endif
