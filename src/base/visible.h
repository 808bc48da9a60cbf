/* Texts made fit to be seen: what a reader cannot see, or what would turn the text around it, becomes a visible
 * sign. */
#ifndef TURNLAY_BASE_VISIBLE_H
#define TURNLAY_BASE_VISIBLE_H

#include "base/arena.h"

/* One character as a page or a terminal may show it. */
typedef struct ShownCharacter {
    char text[8]; /* UTF-8, NUL-terminated */
    int columns;
} ShownCharacter;

/* Reads one character of the bytes (left >= 1) and returns how many bytes it took. A tab becomes four blanks;
 * control characters (C0, C1), noncharacters, formatting characters that are no part of a word's spelling
 * (direction overrides and isolates among them) and ill-formed UTF-8 become visible signs. Every page but JSON,
 * which keeps what was written, shows texts of the builder's by this rule alone. */
uint32_t show_character(const char *bytes, size_t left, ShownCharacter *shown);
/* The whole text so, the text itself where nothing is to be done. */
const char *visible(Arena *arena, const char *text);
/* The same, but tabs and line ends stay: for formats that can hold them. */
const char *visible_with_breaks(Arena *arena, const char *text);
/* The text as well-formed UTF-8: each byte that fits nowhere becomes U+FFFD. */
const char *well_formed(Arena *arena, const char *text);

#endif
