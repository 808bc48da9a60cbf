# What goes wrong in the middle of writing: calls that some file systems refuse, and signals.
"${CC:-cc}" -shared -fPIC -o faults.so "$tests/faults.c" 2>"$err"
code=$?
verdict 'the failing calls are compiled' "$code"
turnlay plan good.lay
cp "$out" expected

failing() { # CALL ERRNO ARGUMENT...
    local call=$1 number
    number=$(python3 -c 'import errno, sys; print(getattr(errno, sys.argv[1]))' "$2")
    shift 2
    FAULT_CALL=$call FAULT_NUMBER=$number LD_PRELOAD=$PWD/faults.so "$TURNLAY" "$@" >"$out" 2>"$err"
    code=$?
}

failing fchmod EPERM plan -o unmoded good.lay
[ "$code" = 0 ] && cmp -s unmoded expected && ! [ -s "$err" ]
verdict 'a file system that refuses modes does not cost a new file' $?
echo older >kept
chmod 640 kept
failing fchmod EPERM plan -o kept good.lay
[ "$code" = 0 ] && cmp -s kept expected && [ "$(stat -c %a kept)" = 600 ]
verdict 'nor one that is replaced, and nobody more may read it' $?
holds 'but people are told' "$err" 'who may read it could not be kept'
for number in EINVAL ENOSYS EOPNOTSUPP EROFS; do
    rm -f unsettled
    failing fsync "$number" plan -o unsettled good.lay
    [ "$code" = 0 ] && cmp -s unsettled expected
    verdict "a file system with nothing to settle ($number) does not cost the output" $?
done
for number in EIO ENOSPC EDQUOT; do
    echo older >page
    failing fsync "$number" plan -o page good.lay
    [ "$code" = 3 ] && [ "$(cat page)" = older ]
    verdict "a disk that fails at the end ($number) leaves the older page" $?
done
failing close EDQUOT plan -o page good.lay
[ "$code" = 3 ] && [ "$(cat page)" = older ]
verdict 'a disk that fails on closing leaves the older page' $?
# The pipe of the rules is not a file, and does not fail.
failing close EDQUOT plan -MF >(cat >rules) good.lay
[ "$code" = 3 ]
verdict 'a standard output that fails on closing is exit code 3' $?
wait $!
! [ -s rules ]
verdict 'and nothing is written that make takes for fresh' $?
turnlay plan -MF >(cat >rules) good.lay
wait $!
holds 'which otherwise is' rules ': good.lay'
no_leftovers 'no temporary file stays behind' .

mkdir settled
FAULT_SETTLED=$PWD/notes LD_PRELOAD=$PWD/faults.so "$TURNLAY" plan -o settled/page good.lay 2>"$err"
[ "$(tr '\n' ' ' <notes)" = 'file folder ' ]
verdict 'the file is settled on the disk, and then the name that it has in its folder' $?

# A disk that fails in reading is no fault of the pattern's; what a user may not read is.
mkdir -p shop
{ echo 'edition 1'; echo 'thread mist { turns: 60 per cm }'; } >shop/threads.lay
{ cat good.lay; echo 'use "shop/threads"'; } >user.lay
unread() { # ERRNO FILE WANTED-CODE WORDS NAME
    rm -f page
    FAULT_FILE=/$2 failing read "$1" plan -MF page.d -o page user.lay
    [ "$code" = "$3" ] && grep -qF -- "$4" "$err" && ! [ -s "$out" ] && ! [ -e page ]
    verdict "$5" $?
}
for number in EIO ENOMEM; do
    unread "$number" threads.lay 3 'turnlay: shop/threads.lay cannot be read: ' "a used file that the disk fails to read ($number) is exit code 3"
    [ "$(wc -l <"$err")" = 1 ] && ! [ -e page.d ]
    verdict 'said in one line, and make sees nothing' $?
    unread "$number" user.lay 3 'turnlay: user.lay cannot be read: ' "and the file itself ($number)"
done
unread EACCES threads.lay 1 'T023' 'a used file that may not be read is a finding'
unread EACCES user.lay 2 'turnlay: user.lay cannot be read: ' 'the file itself is wrong use'

ulimit -c 0
signalled() { # NAME WANTED-CODE
    rm -f page
    # Whoever started the tests may have had it ignored, as shells do for what runs in the background.
    { env --default-signal="$1" FAULT_SIGNAL="$(kill -l "$1")" LD_PRELOAD="$PWD/faults.so" \
        "$TURNLAY" plan -o page good.lay >"$out"; } 2>"$err"
    code=$?
    [ "$code" = "$2" ] && cmp -s page expected && [ -z "$(find . -name '.turnlay-*')" ]
    verdict "$1 in the middle leaves a whole page and no temporary file" $?
    rm -f .turnlay-*
}
for signal in HUP INT QUIT USR1 USR2 ALRM TERM STKFLT XCPU VTALRM PROF IO PWR RTMIN RTMAX; do
    signalled "$signal" $((128 + $(kill -l "$signal")))
done
signalled PIPE 0
signalled XFSZ 0
# A fault of the program's own does not wait until the page is written.
for signal in SEGV BUS FPE ILL TRAP SYS ABRT; do
    rm -f page
    { FAULT_SIGNAL="$(kill -l "$signal")" LD_PRELOAD="$PWD/faults.so" "$TURNLAY" plan -o page good.lay >"$out"; } 2>"$err"
    code=$?
    [ "$code" = $((128 + $(kill -l "$signal"))) ] && ! [ -e page ]
    verdict "$signal ends the program where it comes" $?
    rm -f .turnlay-*
done

# Where the search for fonts does not end, the process that prints does.
if [ -x "$TURNLAY-pdf" ]; then
    limit=''
    FAULT_FONTS=1 LD_PRELOAD="$PWD/faults.so" "$TURNLAY-pdf" sheet --format pdf -o endless.pdf good.lay >"$out" 2>"$err" &
    waiting=$!
    for _ in $(seq 200); do
        printer=$(sed -n "/^PPid:\t$waiting\$/F" /proc/[0-9]*/status 2>/dev/null | cut -d / -f 3)
        limit=$(sed -n 's/^Max cpu time *//p' "/proc/${printer:-none}/limits" 2>/dev/null | tr -s ' ')
        [ "$limit" = '120 120 seconds ' ] && break
        sleep 0.05
    done
    [ "$limit" = '120 120 seconds ' ]
    verdict 'printing has two minutes of a processor' $?
    kill -XCPU "$printer"
    wait "$waiting"
    [ $? = 3 ] && ! [ -e endless.pdf ] && grep -q -e '--format html takes less and prints as well' "$err"
    verdict 'and what comes then is told, with a way out' $?
fi
