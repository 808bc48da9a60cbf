/* What people write, and what the language says for it. A text that cannot be read is held against these phrases.
 */
#ifndef TURNLAY_SYNTAX_PHRASE_H
#define TURNLAY_SYNTAX_PHRASE_H

#include "syntax/token_words.h"

/* where: in which braces or brackets (phrase_place), "" for anywhere.
 * written: what is matched, parts set apart by blanks. A word or sign stands for itself, `a|b` for either,
 * `steps:` for that option; in capitals stand the classes of phrase_part.h. A `?` behind a part: it may be
 * missing. meant: what the language says for it. $1 is the first part as it stands (START, NEXT and NEAR are
 * none), a letter before the figure one of the forms of phrase.c; `;` begins a new statement. said: what is the
 * matter, for people. */
typedef struct Phrase {
    const char *where, *written, *meant, *said;
} Phrase;

/* The phrases, in the order in which they are tried, and how many (phrase_table.c). */
extern const Phrase phrases[];
extern const unsigned phrase_count;

enum { PHRASE_PARTS = 16 };
typedef struct PhraseMatch {
    const Phrase *phrase;
    TokenRange parts[PHRASE_PARTS];
    unsigned count;
    TokenRange all;
} PhraseMatch;

/* The first phrase that takes in the token at `at`. words: of those alone that begin with certain words. Returns
 * false if there is none. */
bool phrase_match(Reader *reader, uint32_t at, bool words, PhraseMatch *match);
/* Where a token stands. T: the top of a file; R: a rod; Q: a series, where phrases of R and S count, too; F:
 * options or stations; W: swaps; B: a band's inlays or a crosswrap's strands; S: statements; P: a pattern's
 * parameters; C: a call's arguments; L: a list; G: other parentheses. */
char phrase_place(const Reader *reader, uint32_t at);
/* The whole number that a word says, in digits, up to ninety; NULL if it says none. Articles are one. */
const char *number_in_digits(const char *word, size_t length);

/* If a phrase takes in the token at `at`, it is reported, with what is meant as its edit. */
bool mend_phrase(Reader *reader, FindingCode code, uint32_t at, bool words);

#endif
