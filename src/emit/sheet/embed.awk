# Turns the bench sheet's style and script into C: lists of lines, and the hash by which a page's content security
# policy (W3C CSP Level 3) names each. First input: what sha256sum says of the files; then the files themselves.

function fail(reason) {
    print "embed.awk: " FILENAME ": " reason > "/dev/stderr"
    failed = 1
    exit 1
}

# "0e1f..." to base64 (RFC 4648): three hexadecimal digits are two signs. 64 digits leave one over, which with two
# zeros more gives the last two signs; "=" fills up the group of four.
function base64(digits,    out, i, bits) {
    out = ""
    digits = digits "00"
    for (i = 1; i <= length(digits); i += 3) {
        bits = (value[substr(digits, i, 1)] * 16 + value[substr(digits, i + 1, 1)]) * 16 + value[substr(digits, i + 2, 1)]
        out = out substr(signs, int(bits / 64) + 1, 1) substr(signs, bits % 64 + 1, 1)
    }
    return substr(out, 1, 43) "="
}

function close_asset() {
    if (name != "")
        print "    NULL\n};"
}

BEGIN {
    signs = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/"
    for (i = 0; i < 16; i++)
        value[substr("0123456789abcdef", i + 1, 1)] = i
    print "/* Made from the page's style and script by src/emit/sheet/embed.awk. */"
    print "#include \"emit/sheet/sheet_assets.h\""
    print ""
    print "#include <stddef.h>"
}

FILENAME == "-" || FILENAME == "" {
    hash[$2] = $1
    next
}

FNR == 1 {
    close_asset()
    name = FILENAME
    sub(/^.*\//, "", name)
    sub(/\./, "_", name)
    if (length(hash[FILENAME]) != 64)
        fail("its hash is missing")
    print "\nconst char " name "_hash[] = \"sha256-" base64(hash[FILENAME]) "\";"
    print "const char *const " name "[] = {"
}

# These would end the element that the text stands in, or change how the rest of it is read.
/<\/|<!--/ { fail("line " FNR " holds \"</\" or \"<!--\"") }

{ print "    " literal($0) "," }

END {
    if (failed)
        exit 1
    close_asset()
}
