# Turns the pattern that `turnlay new` writes into C. C promises 4095 characters for one text (C17 5.2.4.1), so a longer
# one stops the build.

BEGIN {
    print "/* Made from first_pattern.lay by src/cli/embed.awk. */"
    print "#include \"cli/first_pattern.h\""
    print ""
    print "const char first_pattern[] ="
}

{
    size += length($0) + 1
    print "    " literal($0)
}

END {
    print "    ;"
    if (size > 4095 || !size) {
        print "embed.awk: " FILENAME " has " size " characters, not 1 to 4095" > "/dev/stderr"
        exit 1
    }
}
