/* What reading takes in itself: a text that lies in memory becomes a tree, again and again.
 *
 *     reader FILE [TIMES]
 *
 * prints a name and a number a line: `microseconds` of the best reading by the clock, and `resident`, the bytes of
 * memory that the process has more when the tree is there than before; the text is lent.
 */
#include "turnlay.h"

#include <stdio.h>
#include <stdlib.h>
#include <time.h>
#include <unistd.h>

static double now(void)
{
    struct timespec time;
    clock_gettime(CLOCK_MONOTONIC, &time);
    return (double)time.tv_sec * 1e6 + (double)time.tv_nsec / 1e3;
}

static _Noreturn void fail(const char *what)
{
    fprintf(stderr, "reader: %s\n", what);
    exit(3);
}

static long resident(void)
{
    FILE *state = fopen("/proc/self/statm", "r");
    long whole, pages;
    if (!state || fscanf(state, "%ld %ld", &whole, &pages) != 2)
        fail("/proc/self/statm cannot be read");
    fclose(state);
    return pages * sysconf(_SC_PAGESIZE);
}

static char *text_of_file(const char *path, size_t *length)
{
    FILE *file = fopen(path, "rb");
    if (!file || fseek(file, 0, SEEK_END) != 0)
        fail("the file cannot be read");
    *length = (size_t)ftell(file);
    rewind(file);
    char *text = malloc(*length + 1);
    if (!text || fread(text, 1, *length, file) != *length)
        fail("the file cannot be read");
    text[*length] = 0;
    fclose(file);
    return text;
}

int main(int words, char **word)
{
    if (words < 2)
        return 2;
    size_t length;
    char *text = text_of_file(word[1], &length);
    double best = 0;
    long grown = 0;
    for (int i = 0; i < (words > 2 ? atoi(word[2]) : 7); i++) {
        TurnlayCompilation *compilation = turnlay_new();
        long before = resident();
        double begun = now();
        if (turnlay_lend(compilation, word[1], text, length) != TURNLAY_DONE)
            fail("the text is not taken");
        double taken = now() - begun;
        if (i == 0)
            grown = resident() - before;
        if (i == 0 || taken < best)
            best = taken;
        turnlay_free(compilation);
    }
    free(text);
    printf("microseconds %.0f\nresident %ld\n", best, grown);
    return 0;
}
