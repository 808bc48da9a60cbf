# What every part uses. After `turnlay`, `expect` and `refuse`: $code, and the files $out and $err.
passed=0
failed=0
skipped=0
out=$work/out
err=$work/err

verdict() { # NAME STATUS
    if [ "$2" = 0 ]; then
        passed=$((passed + 1))
        echo "ok      $1"
        return
    fi
    failed=$((failed + 1))
    echo "FAILED  $1 (exit code ${code-none})"
    head -c 600 "$out" | awk '{ print "        out: " $0 }'
    head -c 600 "$err" | awk '{ print "        err: " $0 }'
    [ -z "${STOP_AT_FIRST-}" ] || exit 1
}

skip() { # NAME WHY
    echo "skipped $1: $2"
    skipped=$((skipped + 1))
}

turnlay() {
    "$TURNLAY" "$@" >"$out" 2>"$err"
    code=$?
}

terminal() { # ARGUMENT... ; what the terminal received is in $out
    python3 -c 'import os, pty, sys; sys.exit(os.waitstatus_to_exitcode(pty.spawn(sys.argv[1:])))' \
        "$TURNLAY" "$@" >"$out" 2>"$err" </dev/null
    code=$?
}

expect() { # CODE NAME ARGUMENT...
    local wanted=$1 name=$2
    shift 2
    turnlay "$@"
    [ "$code" = "$wanted" ]
    verdict "$name" $?
}

# Wrong use: exit code 2, the usage on standard error, nothing on standard output.
refuse() { # NAME ARGUMENT...
    local name=$1
    shift
    turnlay "$@"
    [ "$code" = 2 ] && grep -q '^usage: ' "$err" && ! [ -s "$out" ]
    verdict "wrong use: $name" $?
}

holds() { # NAME FILE TEXT
    grep -qF -- "$3" "$2"
    verdict "$1" $?
}

lacks() { # NAME FILE TEXT
    ! grep -qF -- "$3" "$2"
    verdict "$1" $?
}

same() { # NAME FILE FILE
    cmp -s "$2" "$3"
    verdict "$1" $?
}

differ() { # NAME FILE FILE
    [ -s "$2" ] && [ -s "$3" ] && ! cmp -s "$2" "$3"
    verdict "$1" $?
}

empty() { # NAME FILE
    [ -e "$2" ] && ! [ -s "$2" ]
    verdict "$1" $?
}

no_file() { # NAME FILE
    ! [ -e "$2" ]
    verdict "$1" $?
}

no_leftovers() { # NAME FOLDER
    [ -z "$(find "$2" -name '.turnlay-*')" ]
    verdict "$1" $?
}

is_json() { # NAME FILE
    python3 -m json.tool "$2" >/dev/null 2>&1
    verdict "$1" $?
}

# A plan as CSV without the columns that say where in the source each run comes from.
bare_csv() { # FILE
    sed -E 's/,[^,]+,([0-9]+,[0-9]+|line,column)(,[^,]*)\r?$/\2/' "$1"
}

same_plan() { # NAME FILE FILE
    local plan
    plan=$(bare_csv "$2") && [ -n "$plan" ] && [ "$plan" = "$(bare_csv "$3")" ] && ! grep -q 'line,column' <<<"$plan"
    verdict "$1" $?
}

blank_and_threads() {
    echo 'thread navy { turns: 67 per cm }'
    echo 'thread foam { turns: 67 per cm }'
    echo 'blank tube { at 0 mm: 12 mm  at 100 cm: 4 mm }'
}

# A folder with one file of each sort.
enter() { # FOLDER
    mkdir -p "$1" && cd "$1" || exit 1
    {
        echo 'edition 1'
        blank_and_threads
        echo 'rod "First" on tube { at 20 cm { band 10 turns of foam  band 12 mm of navy  band 9 turns of foam } }'
    } >good.lay
    { cat good.lay; echo 'rod "Second" on tube { at 30 cm { band 40 turns of navy } }'; } >two.lay
    sed 's/of navy/of nobody/' good.lay >bad.lay
    sed '/^edition/d' good.lay >warned.lay
    sed '/^rod/d' good.lay >norod.lay
}
