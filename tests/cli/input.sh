# Files and standard input.
# A name that cannot be meant so: one line on standard error, exit code 2, nothing else.
no_pattern() { # NAME WORDS ARGUMENT...
    local name=$1 words=$2
    shift 2
    turnlay "$@"
    [ "$code" = 2 ] && ! [ -s "$out" ] && [ "$(wc -l <"$err")" = 1 ] && grep -qF -- "$words" "$err"
    verdict "$name" $?
}
for verb in check plan need sheet draw gather; do
    no_pattern "a missing file to $verb" 'there is no file missing.lay' "$verb" missing.lay
done
no_pattern 'a missing file with --findings json' 'there is no file missing.lay' check --findings json missing.lay
no_pattern 'a name mistyped by two letters' 'did you mean good.lay?' plan godo.lay
no_pattern 'a name without its ending' 'did you mean ../input/good.lay?' plan ../input/good
no_pattern 'a folder that is not there' 'there is no file nowhere/good.lay' plan nowhere/good.lay
no_pattern 'a path below a file' 'good.lay/more' plan good.lay/more
no_pattern 'no name at all' 'there is no file' plan ''
mkdir folder.lay
no_pattern 'a folder as a file' 'folder.lay cannot be read: it is a folder' check folder.lay
mkfifo pipe.lay
no_pattern 'a pipe as a file is not waited for' 'it is a pipe' check pipe.lay
no_pattern 'a device as a file' 'it is a device' check /dev/zero
no_pattern 'a name with escape codes' 'there is no file odd' check $'odd\033[31m.lay'
lacks 'a name with escape codes does not reach the terminal' "$err" $'\033'
ln -s loop.lay loop.lay
no_pattern 'a link that goes round' 'loop.lay cannot be read' check loop.lay
cp good.lay sealed.lay
chmod 000 sealed.lay
if [ -r sealed.lay ]; then
    skip 'a file that may not be read' 'this user may read everything'
else
    no_pattern 'a file that may not be read' 'sealed.lay cannot be read' check sealed.lay
fi
echo older >page.text
no_pattern 'a missing file with an output' 'missing.lay' plan -MD -o page.text missing.lay
[ "$(cat page.text)" = older ] && ! [ -e page.text.d ]
verdict 'nothing is written then' $?

# Where reading itself fails, no name is to blame: the memory of a process is a file whose first byte is none.
expect 3 'a disk that fails' check /proc/self/mem
[ "$(wc -l <"$err")" = 1 ] && grep -q '^turnlay: /proc/self/mem cannot be read: ' "$err" && ! [ -s "$out" ]
verdict 'it is said in one line' $?

expect 0 'standard input' check - <good.lay
expect 1 'a bad standard input' check - <bad.lay
holds 'standard input has a name' "$out" '<input>:5:'
turnlay plan --format csv good.lay
cp "$out" expected
expect 0 'planning standard input' plan --format csv - <good.lay
same_plan 'standard input gives the same plan' "$out" expected
turnlay check - <&-
[ "$code" = 2 ] && grep -q '^turnlay: standard input cannot be read: ' "$err" && ! [ -s "$out" ]
verdict 'a closed standard input is wrong use' $?
turnlay check - <folder.lay
[ "$code" = 2 ] && grep -q '^turnlay: standard input cannot be read: it is a folder' "$err"
verdict 'a folder as standard input is wrong use' $?
mkdir shop
{ echo 'edition 1'; echo 'thread mist { turns: 60 per cm }'; } >shop/threads.lay
{ cat good.lay; echo 'use "shop/threads"'; } >user.lay
expect 0 'standard input uses files of the working folder' check -v - <user.lay
holds 'the working folder is where they are sought' "$err" 'using shop/threads.lay'
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
