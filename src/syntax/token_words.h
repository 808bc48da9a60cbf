/* Tokens as the words that they are written with. */
#ifndef TURNLAY_SYNTAX_TOKEN_WORDS_H
#define TURNLAY_SYNTAX_TOKEN_WORDS_H

#include "syntax/recovery.h"

typedef struct TokenRange {
    uint32_t first, end; /* tokens; equal where there are none */
} TokenRange;

/* A token's text without the colon of an option, and its length. */
const char *token_name(const Reader *reader, uint32_t at, size_t *length);
/* Whether the token is written so; a word with a colon stands for an option. */
bool token_is(const Reader *reader, uint32_t at, const char *word, size_t length);
/* Whether it is a word, of the language or not. */
bool is_word(const Reader *reader, uint32_t at);
/* Whether both are the same word, with a colon or without. */
bool same_word(const Reader *reader, uint32_t one, uint32_t other);
/* The token behind words and numbers that begin there, two at least, with or without hyphens; 0 if there are none.
 */
uint32_t words_end(const Reader *reader, uint32_t at);
/* Puts the name that such words make together: `dark_blue`. Returns its length, 0 if there is no room for it. */
size_t joined_name(const Reader *reader, TokenRange words, char *name, size_t room);

#endif
