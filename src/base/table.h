/* Tables by kind: rows as X(NAME, ...) in a macro that takes X. */
#ifndef TURNLAY_BASE_TABLE_H
#define TURNLAY_BASE_TABLE_H

/* How many rows such a table has, as a constant: held against the count of the kinds, it lets no row be forgotten.
 */
#define TABLE_ROWS(TABLE) (0 TABLE(TABLE_ROW))
#define TABLE_ROW(...) +1

#endif
