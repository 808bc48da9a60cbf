/* Reads the tables of published values in tests/published/; tests run from the repository's root. */
#ifndef TURNLAY_TESTS_PUBLISHED_H
#define TURNLAY_TESTS_PUBLISHED_H

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { PUBLISHED_ROWS = 64, PUBLISHED_COLUMNS = 16 };

typedef struct Published {
    int rows;
    double cells[PUBLISHED_ROWS][PUBLISHED_COLUMNS]; /* 0 where a cell holds no number */
} Published;

/* The numbers of a comma-separated table below its line of headings; fails the test if it cannot be read. Words
 * are only in the last column, since a comma within quotes is not understood. */
static inline Published published(const char *path)
{
    Published table = {0};
    FILE *file = fopen(path, "r");
    if (!file)
        fail_msg("cannot read %s: the tests run from the repository's root", path);
    char line[1024];
    for (int number = 0; fgets(line, sizeof line, file); number++) {
        if (number == 0)
            continue;
        assert_true(table.rows < PUBLISHED_ROWS);
        char *at = line;
        for (int column = 0; column < PUBLISHED_COLUMNS && at; column++) {
            table.cells[table.rows][column] = strtod(at, NULL);
            at = strchr(at, ',');
            at = at ? at + 1 : NULL;
        }
        table.rows++;
    }
    fclose(file);
    return table;
}

#endif
