# Turns the pages grammar/findings/*.md into a C table of {code, text}, one string literal a line of text.
# A page is named by its code (T401.md) and begins with "# T401: ". C promises 4095 characters for one text
# (C17 5.2.4.1), so a longer page stops the build.

function fail(reason) {
    print "embed.awk: " FILENAME ": " reason > "/dev/stderr"
    failed = 1
    exit 1
}

function close_page() {
    if (size > 4095)
        fail("the page of " code " is longer than 4095 characters")
    if (code != "")
        print "    },"
}

BEGIN {
    print "/* Made from grammar/findings by src/check/embed.awk. */"
    print "#include \"base/finding.h\""
    print "#include \"check/pages.h\""
    print ""
    print "#include <stddef.h>"
    print ""
    print "const ExplanationPage explanation_pages[] = {"
    if (ARGC < 2)
        exit 0
}

FNR == 1 {
    close_page()
    code = FILENAME
    sub(/^.*\//, "", code)
    sub(/\.md$/, "", code)
    if (index($0, "# " code ": ") != 1)
        fail("the first line must begin with \"# " code ": \"")
    size = 0
    print "    {\"" code "\","
}

{
    sub(/\r$/, "")
    size += length($0) + 1
    print "     " literal($0)
}

END {
    if (failed)
        exit 1
    close_page()
    if (failed)
        exit 1
    print "    {NULL, NULL},"
    print "};"
    print "_Static_assert(sizeof explanation_pages / sizeof *explanation_pages == FINDING_CODE_COUNT + 1,"
    print "               \"every finding has its page in grammar/findings\");"
}
