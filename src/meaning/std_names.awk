# Turns the files of stdlib/ into a C table of what they declare: {file, name, whether it is a pattern}.

BEGIN {
    print "/* Made from stdlib by src/meaning/std_names.awk. */"
    print "#include \"meaning/std_names.h\""
    print ""
    print "#include <stddef.h>"
    print ""
    print "const StdName std_names[] = {"
}

/^(pattern|thread|guide|size|blank|let) / {
    file = FILENAME
    sub(/^.*\//, "", file)
    sub(/\.lay$/, "", file)
    match($2, /^[A-Za-z_0-9]+/)
    print "    {\"std/" file "\", \"" substr($2, 1, RLENGTH) "\", " ($1 == "pattern" ? "true" : "false") "},"
}

END {
    print "    {NULL, NULL, false},"
    print "};"
}
