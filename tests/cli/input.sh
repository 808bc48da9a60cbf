# Files and standard input.
expect 1 'a missing file' check missing.lay
holds 'a missing file is a finding' "$out" 'T023'
holds 'a missing file says why' "$out" 'No such file'
expect 1 'a missing file to plan' plan missing.lay
holds 'its finding goes to standard error' "$err" 'T023'
expect 1 'a missing file with --findings json' check --findings json missing.lay
is_json 'its finding is JSON like any other' "$out"
mkdir folder.lay
expect 1 'a folder as a file' check folder.lay
holds 'a folder is named as one' "$out" 'it is a folder'
mkfifo pipe.lay
expect 1 'a pipe as a file is not waited for' check pipe.lay
holds 'a pipe is a finding' "$out" 'T023'
expect 1 'a device as a file' check /dev/zero
holds 'a device is a finding' "$out" 'T023'
expect 1 'a name with escape codes' check $'odd\033[31m.lay'
lacks 'a name with escape codes does not reach the terminal' "$out" $'\033'

expect 0 'standard input' check - <good.lay
expect 1 'a bad standard input' check - <bad.lay
holds 'standard input has a name' "$out" '<input>:5:'
turnlay plan --format csv good.lay
cp "$out" expected
expect 0 'planning standard input' plan --format csv - <good.lay
same_plan 'standard input gives the same plan' "$out" expected
expect 1 'a closed standard input' check - <&-
holds 'a closed standard input is a finding' "$out" 'T023'
mkdir shop
{ echo 'edition 1'; echo 'thread mist { turns: 60 per cm }'; } >shop/threads.lay
{ cat good.lay; echo 'use "shop/threads"'; } >user.lay
expect 0 'standard input uses files of the working folder' check -v - <user.lay
holds 'the working folder is where they are sought' "$err" 'took shop/threads.lay'
: >empty.lay
expect 0 'an empty file' check empty.lay

limit=$((16 * 1024 * 1024))
head -c "$limit" /dev/zero | tr '\0' ' ' >just.lay
expect 0 'a file of just 16 MiB' check just.lay
lacks 'it is not too large' "$out" 'T901'
{ cat just.lay; echo; } >large.lay
expect 1 'a file of one byte more' check large.lay
holds 'it is too large' "$out" 'T901'
expect 1 'as much on standard input' check - <large.lay
holds 'it is too large, too' "$out" 'T901'
{ cat good.lay; echo 'use "large"'; } >heavy.lay
expect 1 'a used file that is too large' check heavy.lay

# Reading 16 MiB takes more than this address space has.
if { bash -c 'ulimit -v 40000; "$0" --version' "$TURNLAY"; } >/dev/null 2>&1; then
    bash -c 'ulimit -v 40000; "$0" check just.lay' "$TURNLAY" >"$out" 2>"$err"
    code=$?
    [ "$code" = 3 ]
    verdict 'no memory left is exit code 3' $?
    holds 'no memory left is said' "$err" 'no memory'
else
    skip 'no memory left' 'this build needs more address space than the test leaves it'
fi
rm -f just.lay large.lay
