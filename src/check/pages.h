/* The pages of grammar/findings/ as text in the program. embed.awk writes the table at build time. */
#ifndef TURNLAY_CHECK_PAGES_H
#define TURNLAY_CHECK_PAGES_H

typedef struct ExplanationPage {
    const char *code; /* "T401"; NULL ends the table */
    const char *text; /* Markdown, UTF-8 */
} ExplanationPage;

extern const ExplanationPage explanation_pages[];

#endif
