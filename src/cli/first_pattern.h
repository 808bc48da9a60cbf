/* The pattern that `turnlay new` writes: src/cli/first_pattern.lay, which embed.awk turns into C at build time. */
#ifndef TURNLAY_CLI_FIRST_PATTERN_H
#define TURNLAY_CLI_FIRST_PATTERN_H

extern const char first_pattern[];

#endif
