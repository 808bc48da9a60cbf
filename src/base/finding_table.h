/* Every finding of the program: code, name, severity, title. `turnlay explain`, the pages in
 * grammar/findings/ and the tests go by this table. */
#ifndef TURNLAY_BASE_FINDING_TABLE_H
#define TURNLAY_BASE_FINDING_TABLE_H

#define FINDING_TABLE(X)                                                                                          \
    /* T0: reading the text */                                                                                    \
    X("T001", NOT_UTF8, SEVERITY_ERROR, "not UTF-8 text")                                                         \
    X("T002", CONTROL_CHARACTER, SEVERITY_ERROR, "a control character in the text")                               \
    X("T003", STRANGE_CHARACTER, SEVERITY_ERROR, "a character that has no meaning here")                          \
    X("T004", TEXT_NOT_CLOSED, SEVERITY_ERROR, "a text without its closing quote")                                \
    X("T005", BAD_NUMBER, SEVERITY_ERROR, "a number that cannot be read")                                         \
    X("T006", SYNTAX, SEVERITY_ERROR, "a word or sign that does not fit here")                                    \
    X("T007", MISSPELT_KEYWORD, SEVERITY_ERROR, "an unknown word at the start of a statement")                    \
    X("T008", BRACE_NOT_CLOSED, SEVERITY_ERROR, "a brace that is not closed")                                     \
    X("T009", BRACE_NOT_OPEN, SEVERITY_ERROR, "a brace that closes nothing")                                      \
    X("T010", EDITION_MISSING, SEVERITY_WARNING, "the edition is missing")                                        \
    X("T011", EDITION_UNKNOWN, SEVERITY_ERROR, "an edition this program does not know")                           \
    X("T012", UNKNOWN_UNIT, SEVERITY_ERROR, "an unknown unit")                                                    \
    X("T013", RESERVED_NAME, SEVERITY_ERROR, "a word of the language used as a name")                             \
    X("T020", USE_NOT_FOUND, SEVERITY_ERROR, "a used file that cannot be found")                                  \
    X("T021", USE_CIRCLE, SEVERITY_ERROR, "files that use each other in a circle")                                \
    X("T022", USE_OUTSIDE, SEVERITY_ERROR, "a path that leaves the allowed folders")                              \
    X("T023", FILE_UNREADABLE, SEVERITY_ERROR, "a file that cannot be read")                                      \
    X("T024", NO_ROD, SEVERITY_NOTE, "a file without a rod")                                                      \
    /* T1: names and kinds */                                                                                     \
    X("T101", UNKNOWN_NAME, SEVERITY_ERROR, "an unknown name")                                                    \
    X("T102", NAME_TWICE, SEVERITY_ERROR, "a name declared twice")                                                \
    X("T103", NAME_AMBIGUOUS, SEVERITY_ERROR, "a name that two used files declare")                               \
    X("T104", WRONG_KIND, SEVERITY_ERROR, "a value of the wrong kind")                                            \
    X("T105", BARE_NUMBER, SEVERITY_ERROR, "a number without its unit")                                           \
    X("T106", KINDS_DISAGREE, SEVERITY_ERROR, "two kinds that do not go together")                                \
    X("T107", UNKNOWN_OPTION, SEVERITY_ERROR, "an unknown option")                                                \
    X("T108", OPTION_TWICE, SEVERITY_ERROR, "an option given twice")                                              \
    X("T109", OPTION_MISSING, SEVERITY_ERROR, "something required is missing")                                    \
    X("T110", ARGUMENTS, SEVERITY_ERROR, "arguments that do not fit the pattern")                                 \
    X("T111", PATTERN_CIRCLE, SEVERITY_ERROR, "a pattern that calls itself")                                      \
    X("T112", LET_CIRCLE, SEVERITY_ERROR, "a value that depends on itself")                                       \
    X("T113", NOT_HERE, SEVERITY_ERROR, "a statement in the wrong place")                                         \
    X("T114", OPTIONS_EXCLUDE, SEVERITY_ERROR, "options that cannot be used together")                            \
    X("T115", NOT_A_CHOICE, SEVERITY_ERROR, "a word that the option does not take")                               \
    X("T116", OLD_WORD, SEVERITY_WARNING, "a word that has been replaced")                                        \
    X("T120", ROD_UNKNOWN, SEVERITY_ERROR, "a rod like one that is not there")                                    \
    X("T121", ROD_AMBIGUOUS, SEVERITY_ERROR, "a rod like one of two")                                             \
    X("T122", ROD_CIRCLE, SEVERITY_ERROR, "rods that are like one another in a circle")                           \
    X("T123", SWAP_UNUSED, SEVERITY_WARNING, "a swap that changes nothing")                                       \
    X("T124", OTHER_VERSION, SEVERITY_WARNING, "a used file of another version")                                  \
    /* T2: values */                                                                                              \
    X("T201", DIVISION_BY_ZERO, SEVERITY_ERROR, "a division by zero")                                             \
    X("T202", TOO_LARGE, SEVERITY_ERROR, "a number too large")                                                    \
    X("T203", OUT_OF_RANGE, SEVERITY_ERROR, "a value outside its range")                                          \
    X("T204", NOT_WHOLE, SEVERITY_ERROR, "a number that is not whole")                                            \
    X("T205", REQUIRE_FAILS, SEVERITY_ERROR, "a pattern's requirement is not met")                                \
    X("T206", EMPTY_LIST, SEVERITY_ERROR, "an empty list")                                                        \
    X("T208", THREAD_WITHOUT_WIDTH, SEVERITY_ERROR, "a thread of unknown pitch")                                  \
    X("T209", BLANK_STATIONS, SEVERITY_ERROR, "blank stations out of order")                                      \
    X("T211", FADE_FROM_NOTHING, SEVERITY_ERROR, "a fade with no single thread to fade from")                     \
    X("T212", FILL_WITHOUT_LENGTH, SEVERITY_ERROR, "a fill where no length is known")                             \
    X("T213", FADE_TO_ITSELF, SEVERITY_WARNING, "a fade to the thread that is already running")                   \
    /* T3: layout */                                                                                              \
    X("T301", LESS_THAN_A_TURN, SEVERITY_ERROR, "a width of less than one turn")                                  \
    X("T302", ROUNDS_FAR, SEVERITY_WARNING, "a width that rounds by more than the tolerance")                     \
    X("T303", LONGER_THAN_PLACE, SEVERITY_ERROR, "a wrap wider than its place")                                   \
    X("T304", PLACES_OVERLAP, SEVERITY_ERROR, "two places that overlap")                                          \
    X("T305", OFF_THE_BLANK, SEVERITY_ERROR, "a wrap off the end of the blank")                                   \
    X("T306", ENDS_ON_RAMP, SEVERITY_ERROR, "a wrap that ends on a guide foot's ramp")                            \
    X("T307", NOTHING_LEFT_TO_FILL, SEVERITY_ERROR, "a fill with no room left")                                   \
    X("T308", FILL_REMAINDER, SEVERITY_NOTE, "room left over that is too little for a turn")                      \
    X("T309", FADE_DOES_NOT_FIT, SEVERITY_ERROR, "a fade that does not fit its width")                            \
    X("T310", UNEQUAL_FEET, SEVERITY_WARNING, "a guide with unequal feet")                                        \
    X("T311", INLAYS_TOUCH, SEVERITY_ERROR, "inlays that touch or leave their band")                              \
    X("T312", EMPTY_LAYER, SEVERITY_WARNING, "a layer without turns")                                             \
    X("T313", MARK_MOVED, SEVERITY_WARNING, "a position that moves after measuring")                              \
    X("T314", PART_IN_THE_WAY, SEVERITY_ERROR, "a wrap that runs into a part of the rod")                         \
    X("T315", PART_TOO_THIN, SEVERITY_ERROR, "a part thinner than the blank")                                     \
    X("T316", PART_OFF_THE_BLANK, SEVERITY_ERROR, "a part that does not lie on the blank")                        \
    X("T317", ACROSS_A_JOINT, SEVERITY_ERROR, "a place across a joint")                                           \
    X("T318", SECTIONS_DO_NOT_FIT, SEVERITY_WARNING, "sections that do not fit into one another")                 \
    X("T319", SPACED_BY_RULE, SEVERITY_NOTE, "places set out by rule")                                            \
    X("T320", READING_FAR, SEVERITY_WARNING, "a measured width that asks to be looked at again")                  \
    X("T321", FADE_CHOSEN, SEVERITY_NOTE, "turns of a fade that are chosen by eye")                               \
    X("T322", INLAY_NOWHERE, SEVERITY_WARNING, "an inlay that is nowhere in its band")                            \
    /* T4: at the bench */                                                                                        \
    X("T401", NOT_HELD, SEVERITY_ERROR, "a thread that is not held before its first turn")                        \
    X("T402", LOOP_TOO_SHORT, SEVERITY_ERROR, "too few turns over a pull-through loop")                           \
    X("T403", NOT_ENDED, SEVERITY_ERROR, "too few turns between a start and an end")                              \
    X("T404", RIDGE, SEVERITY_WARNING, "too many threads under one turn")                                         \
    X("T405", STRANDS_CROWD, SEVERITY_WARNING, "threads under a turn too close together")                         \
    X("T406", PIECE_TOO_LONG, SEVERITY_WARNING, "a cut piece too long to wrap by hand")                           \
    X("T407", SLIPS_ON_RAMP, SEVERITY_WARNING, "turns that would slip on a ramp")                                 \
    X("T408", NOT_LAWFUL, SEVERITY_ERROR, "a wrap that cannot be worked at the bench")                            \
    X("T409", SLIPS_ON_PART, SEVERITY_WARNING, "turns that would slip on a part")                                 \
    /* T5: thread */                                                                                              \
    X("T501", THREADS_DIFFER, SEVERITY_WARNING, "a thread thicker than the one beside it")                        \
    X("T502", PRESERVER_MIXED, SEVERITY_WARNING, "threads with and without colour preserver")                     \
    X("T503", NOMINAL_DIAMETER, SEVERITY_NOTE, "a pitch that is not measured")                                    \
    X("T504", DRIFT, SEVERITY_NOTE, "a wrap that may drift from its width")                                       \
    X("T505", STOCK_SHORT, SEVERITY_WARNING, "not enough thread in stock")                                        \
    X("T506", PIECE_BEYOND_SPOOL, SEVERITY_WARNING, "a piece longer than a spool holds")                          \
    X("T507", PRICE_WITHOUT_SPOOL, SEVERITY_NOTE, "a price without what a spool holds")                           \
    X("T508", FADE_SHOWS_A_LINE, SEVERITY_NOTE, "a fade that shows a line")                                       \
    X("T509", SHADES_ALIKE, SEVERITY_NOTE, "a fade between shades that look the same")                            \
    /* T6: crosswraps */                                                                                          \
    X("T601", CROSSINGS_DO_NOT_DIVIDE, SEVERITY_ERROR, "a spacing that does not divide the field")                \
    X("T602", ANGLE_NOT_OBTAINED, SEVERITY_WARNING, "an angle that no number of crossings gives")                 \
    X("T603", FIELD_NOT_CLOSED, SEVERITY_ERROR, "a closed field that does not close")                             \
    X("T604", FIELD_OVERLAPS, SEVERITY_WARNING, "a closed field that overlaps itself")                            \
    X("T605", BUNDLE_TOO_WIDE, SEVERITY_ERROR, "a bundle wider than its room")                                    \
    X("T606", CROSSWRAP_ANGLE, SEVERITY_WARNING, "strands too flat or too steep")                                 \
    X("T607", CROSSWRAP_SLIPS, SEVERITY_ERROR, "a crosswrap that would slip")                                     \
    X("T608", ENDS_TOO_FEW, SEVERITY_ERROR, "end bands with too few turns")                                       \
    X("T609", CROSSWRAP_NOT_ALONE, SEVERITY_ERROR, "a crosswrap that is not alone in its layer")                  \
    X("T610", CROSSWRAP_OVER_FOOT, SEVERITY_ERROR, "a crosswrap over a guide's foot")                             \
    X("T611", NO_STRANDS, SEVERITY_ERROR, "a crosswrap without strands")                                          \
    X("T612", STACKED_TOO_HIGH, SEVERITY_WARNING, "too many threads stacked")                                     \
    X("T613", NO_ROOM_TO_TURN, SEVERITY_NOTE, "no room for what holds the strands")                               \
    /* T7: records */                                                                                             \
    X("T701", NO_RECORD, SEVERITY_ERROR, "a record that cannot be read")                                          \
    X("T702", RECORD_VALUE, SEVERITY_ERROR, "a value that no record has")                                         \
    X("T703", RECORD_FOREIGN, SEVERITY_ERROR, "a record of another pattern")                                      \
    X("T704", RECORD_STEP, SEVERITY_ERROR, "a record of steps that the sheet has not")                            \
    X("T705", RECORD_THREAD, SEVERITY_NOTE, "a record of threads that this job has not")                          \
    X("T706", RECORD_TEACHES_NOTHING, SEVERITY_WARNING, "a record that teaches nothing")                          \
    /* T9: limits */                                                                                              \
    X("T901", FILE_TOO_LARGE, SEVERITY_ERROR, "a file too large")                                                 \
    X("T902", NESTED_TOO_DEEP, SEVERITY_ERROR, "nested too deep")                                                 \
    X("T903", TOO_MANY_TURNS, SEVERITY_ERROR, "too many turns")                                                   \
    X("T904", TOO_MUCH_WORK, SEVERITY_ERROR, "too much to plan")                                                  \
    X("T905", TOO_MANY_FILES, SEVERITY_ERROR, "too many files")                                                   \
    X("T906", PAGE_TOO_LARGE, SEVERITY_ERROR, "a page too large")

#endif
