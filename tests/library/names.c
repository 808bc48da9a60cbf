/* A program with functions of its own that are called what the house calls its own inside: each must be this one,
 * and the library must go on calling its own. Variables too. */
#include <turnlay.h>

#include <stdio.h>
#include <string.h>

static int calls;

int missing(int value) { return calls++, value + 1; }
int want(int value) { return calls++, value + 2; }
int fault(int value) { return calls++, value + 3; }
int lay(int value) { return calls++, value + 4; }
int evaluate(int value) { return calls++, value + 5; }
int scan(int value) { return calls++, value + 6; }
int give(int value) { return calls++, value + 7; }
int explanation_pages = 8, sheet_css = 9, token_policy = 10;

/* Takes the ways that these names stand for in the house: an option missing, a kind wanted, a layer laid. */
static const char text[] = "edition 1\n"
                           "thread navy { colour: #22346b }\n"
                           "blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }\n"
                           "rod \"One\" on tube { at 20 cm { band 40 of navy } }\n";

int main(void)
{
    TurnlayCompilation *compilation = turnlay_new();
    TurnlayText page;
    turnlay_give(compilation, "names.lay", text, strlen(text));
    TurnlayStatus finished = turnlay_finish(compilation);
    TurnlayStatus written = turnlay_write_findings(compilation, TURNLAY_TEXT, &page);
    if (calls || finished != TURNLAY_HAS_ERRORS || written != TURNLAY_DONE || !strstr(page.bytes, ": error: ")) {
        printf("%d calls, %s, %s\n", calls, turnlay_status_words(finished), turnlay_status_words(written));
        return 1;
    }
    turnlay_text_free(&page);
    turnlay_free(compilation);
    int sum = missing(0) + want(0) + fault(0) + lay(0) + evaluate(0) + scan(0) + give(0);
    return sum == 28 && calls == 7 && explanation_pages + sheet_css + token_policy == 27 ? 0 : 1;
}
