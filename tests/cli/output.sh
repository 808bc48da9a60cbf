# Where results go, and that a good file is never lost.
turnlay plan good.lay
cp "$out" expected
expect 0 'plan -o' plan -o page good.lay
same '-o holds what standard output would' page expected
empty '-o leaves standard output alone' "$out"
expect 0 'plan --output=' plan --output=other good.lay
same '--output is the same' other expected
expect 0 '-o -' plan -o - good.lay
same '-o - is standard output' "$out" expected

echo 'an older page' >page
cp page older
expect 1 '-o with a bad file' plan -o page bad.lay
same 'an existing file stays when there are errors' page older
expect 1 '-o with a bad file and no older page' plan -o fresh bad.lay
no_file 'no file is made when there are errors' fresh
expect 2 '-o with a missing file' plan -o page missing.lay
same 'an existing file stays when the source is missing' page older
(ulimit -f 0; "$TURNLAY" plan -o page good.lay >/dev/null 2>&1)
[ $? = 3 ]
verdict 'a disk that takes no more is exit code 3' $?
same 'an existing file stays when the disk takes no more' page older
no_leftovers 'no temporary file stays behind' .
expect 0 '-o onto an existing file' plan -o page good.lay
same 'an existing file is replaced' page expected
no_leftovers 'no temporary file stays behind after success' .

expect 3 '-o into a folder that is not there' plan -o nowhere/page good.lay
holds 'it names the path' "$err" 'nowhere/page'
expect 3 '-o below a file' plan -o good.lay/page good.lay
mkdir folder
expect 3 '-o onto a folder' plan -o folder good.lay
expect 3 '-o where no file can be made' plan -o /proc/turnlay.page good.lay
mkdir locked
echo 'an older page' >locked/page
chmod 555 locked
if [ -w locked ]; then
    skip 'a folder that may not be written' 'this user may write everywhere'
else
    expect 3 '-o in a folder that may not be written' plan -o locked/page good.lay
    same 'its file stays' locked/page older
fi
echo 'an older page' >guarded
chmod 444 guarded
if [ -w guarded ]; then
    skip 'a file that may not be written' 'this user may write everything'
else
    expect 3 '-o onto a file that may not be written' plan -o guarded good.lay
    same 'it stays' guarded older
fi

(umask 027; "$TURNLAY" plan -o masked good.lay 2>/dev/null)
[ "$(stat -c %a masked)" = 640 ]
verdict 'a new file has the mode of the umask' $?
chmod 600 masked
turnlay plan -o masked good.lay
[ "$(stat -c %a masked)" = 600 ]
verdict 'a replaced file keeps its mode' $?
echo older >folder/target
ln -s folder/target link
expect 0 '-o onto a link' plan -o link good.lay
[ -L link ]
verdict 'the link stays a link' $?
same 'what it leads to is replaced' folder/target expected
ln -s folder/new dangling
ln -s dangling further
expect 0 '-o onto a link to nothing' plan -o further good.lay
[ -L further ] && [ -L dangling ] && [ -f folder/new ] && ! [ -L folder/new ]
verdict 'the links stay, and what they lead to is made' $?
same 'it holds the result' folder/new expected
ln -s nowhere/new lost
expect 3 '-o onto a link into a folder that is not there' plan -o lost good.lay
[ -L lost ]
verdict 'that link stays' $?
ln -s round about
ln -s about round
expect 3 '-o onto links that go round' plan -o round good.lay

cp good.lay source
expect 2 '-o onto the source' plan -o source source
same 'the source stays' source good.lay
ln source second
expect 2 '-o onto the source under another name' plan -o second source
same 'the source stays under both names' second good.lay
expect 2 '-MF onto the source' plan -MF source source
same 'the source stays here too' source good.lay

full() { # NAME ARGUMENT...
    local name=$1
    shift
    "$TURNLAY" "$@" >/dev/full 2>"$err"
    code=$?
    [ "$code" = 3 ] && grep -q 'No space left' "$err"
    verdict "a full disk: $name" $?
}
full 'plan' plan good.lay
full 'draw' draw good.lay
full 'the findings of check' check bad.lay
full '--help' --help
full '--version' --version
full 'explain' explain T101
expect 0 '-o /dev/null' plan -o /dev/null good.lay
[ -c /dev/null ]
verdict '/dev/null stays a device' $?
expect 3 '-o /dev/full' plan -o /dev/full good.lay
"$TURNLAY" plan good.lay >&- 2>"$err"
code=$?
[ "$code" = 3 ]
verdict 'a closed standard output is exit code 3' $?
"$TURNLAY" plan -o page good.lay >&- 2>&-
code=$?
[ "$code" = 0 ] && cmp -s page expected
verdict '-o needs neither standard stream' $?
# Whoever reads and stops has seen enough, be it before the first byte or in the middle.
unread() { # BYTES-READ ARGUMENT...
    python3 -c '
import os, subprocess, sys
reading, writing = os.pipe()
program = subprocess.Popen(sys.argv[2:], stdout=writing)
os.close(writing)
left = int(sys.argv[1])
while left and (got := os.read(reading, left)):
    left -= len(got)
os.close(reading)
sys.exit(program.wait())' "$1" "$TURNLAY" "${@:2}" 2>"$err"
    code=$?
}
bands=$(for _ in $(seq 400); do printf 'band 2 turns of navy band 2 turns of foam '; done)
{ cat norod.lay; echo "rod \"Many\" on tube { at 20 cm { $bands } }"; } >many.lay
for bytes in 0 1000; do
    unread "$bytes" plan --format json many.lay
    [ "$code" = 0 ]
    verdict "a pipe that is read for $bytes bytes only is no failure" $?
    lacks "and nothing is said ($bytes bytes)" "$err" 'turnlay:'
done
unread 0 check bad.lay
[ "$code" = 1 ] && ! [ -s "$err" ]
verdict 'findings that nobody reads are exit code 1 all the same' $?
unread 0 explain
[ "$code" = 0 ] && ! [ -s "$err" ]
verdict 'nor does explain say anything' $?
unread 0 plan -o /dev/stdout good.lay
[ "$code" = 0 ] && ! [ -s "$err" ]
verdict '-o /dev/stdout is standard output' $?
python3 -c '
import os, subprocess, sys
reading, writing = os.pipe()
os.close(reading)
sys.exit(subprocess.call([*sys.argv[1:], "-o", f"/dev/fd/{writing}"], pass_fds=[writing]))' "$TURNLAY" plan good.lay 2>"$err"
code=$?
[ "$code" = 3 ] && grep -q 'Broken pipe' "$err"
verdict 'any other pipe that nobody reads is exit code 3' $?
