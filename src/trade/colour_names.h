/* The colours that have a name: the named colours of CSS Color Module Level 4 (W3C; the editor's draft was read,
 * of 2024 or later), section "Named Colors", without `transparent`. */
#ifndef TURNLAY_TRADE_COLOUR_NAMES_H
#define TURNLAY_TRADE_COLOUR_NAMES_H

#include <stdint.h>

/* The colour 0xRRGGBB of a name in small letters; NO_COLOUR if it is none. */
uint32_t colour_named(const char *name);
/* The names one by one, from 0; NULL behind the last. */
const char *colour_name(uint32_t index);

#endif
