# Outputs that are open already, devices, and files that are read or written by way of a standard stream.
turnlay plan good.lay
cp "$out" expected
{ echo header; cat expected; echo footer; } >framed

for path in /dev/stdout /dev/fd/1 /proc/self/fd/1 /proc/thread-self/fd/1 /dev/../dev/stdout ./to_stdout ./to_link; do
    ln -sf /dev/stdout to_stdout
    ln -sf to_stdout to_link
    { echo header; "$TURNLAY" plan -o "$path" good.lay; echo footer; } >log 2>"$err"
    same "-o $path writes where standard output stands" log framed
    echo header >log
    "$TURNLAY" plan -o "$path" good.lay >>log 2>"$err"
    echo footer >>log
    same "-o $path keeps what was in the log" log framed
    { echo header; "$TURNLAY" plan -o "$path" good.lay; echo footer; } 2>"$err" | cat >log
    same "-o $path writes into a pipe" log framed
done
[ -L to_link ] && [ -L to_stdout ]
verdict 'links to standard output stay links' $?
echo header >log
"$TURNLAY" check -o /dev/stderr bad.lay 2>>log
turnlay check bad.lay
{ echo header; cat "$out"; } >framed_findings
same '-o /dev/stderr keeps what was in the log' log framed_findings
echo header >log
"$TURNLAY" plan -o /dev/fd/7 good.lay 7>>log 2>"$err"
echo footer >>log
same '-o /dev/fd/7 writes to the shell'\''s descriptor' log framed
"$TURNLAY" plan -o >(cat >substituted) good.lay
for _ in 1 2 3 4 5 6 7 8 9 10; do cmp -s substituted expected && break; sleep 0.1; done
same '-o >(command) reaches the command' substituted expected
expect 3 'a descriptor that is not open' plan -o /dev/fd/99 good.lay
"$TURNLAY" plan -o /dev/stdout good.lay >&- 2>"$err"
code=$?
[ "$code" = 3 ]
verdict '-o /dev/stdout with a closed standard output is exit code 3' $?
"$TURNLAY" plan -o /dev/stdin good.lay <expected >"$out" 2>"$err"
code=$?
[ "$code" = 3 ]
verdict '-o onto a standard input that is only read is exit code 3' $?
# What another process has open is not replaced either.
exec 8>held
echo header >&8
"$TURNLAY" plan -o "/proc/$$/fd/8" good.lay 2>"$err"
cat held >log
exec 8>&-
{ echo header; cat expected; } >framed_head
same 'what another process has open keeps what is in it' log framed_head

mkfifo named
cat named >log &
turnlay plan -o named good.lay
wait $!
[ -p named ] && [ "$code" = 0 ] && cmp -s log expected
verdict 'a named pipe is written, and stays' $?
ln -s /dev/null to_null
expect 0 '-o onto a link to a device' plan -o to_null good.lay
[ -c to_null ]
verdict 'the device stays' $?
python3 - "$TURNLAY" >"$out" 2>"$err" <<'END'
import os, subprocess, sys, time
bands = " ".join("band 2 turns of navy band 2 turns of foam" for _ in range(400))
with open("many.lay", "w") as many:
    many.write(open("norod.lay").read() + 'rod "Many" on tube { at 20 cm { %s } }\n' % bands)
command = [sys.argv[1], "plan", "--format", "json", "many.lay"]
wanted = subprocess.run(command, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, check=True).stdout
reading, writing = os.pipe2(os.O_NONBLOCK)
program = subprocess.Popen(command, stdout=writing, stderr=subprocess.PIPE)
os.close(writing)
time.sleep(0.3)
os.set_blocking(reading, True)
got = open(reading, "rb").read()
sys.exit(not (len(wanted) > 100000 and got == wanted and program.wait() == 0))
END
code=$?
verdict 'a pipe that does not wait is waited for' "$code"

# A source is a source by whatever way it comes.
spared() { # NAME: after a run on mine
    [ "$code" = 2 ] && cmp -s mine good.lay
    verdict "$1" $?
}
cp good.lay mine
"$TURNLAY" plan -o mine - <mine >"$out" 2>"$err"
code=$?
spared '-o onto the file that is standard input'
holds 'it says which file' "$err" 'mine would be written over standard input'
"$TURNLAY" plan -MF mine -o page - <mine >"$out" 2>"$err"
code=$?
spared '-MF onto the file that is standard input'
no_file 'no page is left then' page
"$TURNLAY" plan mine >>mine 2>"$err"
code=$?
spared 'a plan is not appended to its source'
holds 'it says that standard output goes there' "$err" 'standard output goes to mine'
"$TURNLAY" check - <mine >>mine 2>"$err"
code=$?
spared 'findings are not appended to their source'
"$TURNLAY" plan -o /dev/stdout mine >>mine 2>"$err"
code=$?
spared 'nor by way of /dev/stdout'
"$TURNLAY" plan -o /dev/stdin - <>mine 2>"$err"
code=$?
spared 'nor by way of /dev/stdin'
mkdir -p shop
{ echo 'edition 1'; echo 'thread mist { turns: 60 per cm }'; } >shop/threads.lay
cp shop/threads.lay threads.copy
{ cat good.lay; echo 'use "shop/threads"'; } >user.lay
expect 2 '-o onto a used file' gather -o shop/threads.lay user.lay
same 'the used file stays' shop/threads.lay threads.copy
"$TURNLAY" plan user.lay >>shop/threads.lay 2>"$err"
code=$?
[ "$code" = 2 ] && cmp -s shop/threads.lay threads.copy
verdict 'a plan is not appended to a used file' $?
cp good.lay a.lay
cp good.lay a.lay.d
expect 2 'the file for make of one FILE is another FILE' plan -MD a.lay a.lay.d
same 'the other FILE stays' a.lay.d good.lay
expect 2 'a source that is missing is not made by -MF' plan -MF missing.lay -o page missing.lay
no_file 'it stays missing' missing.lay
python3 -c '
import os, socket, subprocess, sys
ours, theirs = socket.socketpair()
ours.sendall(open("good.lay", "rb").read())
ours.shutdown(socket.SHUT_WR)
code = subprocess.call([sys.argv[1], "plan", "-"], stdin=theirs, stdout=theirs)
theirs.close()
sys.exit(code or not ours.makefile("rb").read())' "$TURNLAY" 2>"$err"
code=$?
verdict 'one socket may be both streams' "$code"

echo older >log
"$TURNLAY" plan -o log good.lay >>log 2>"$err"
code=$?
[ "$code" = 2 ] && [ "$(cat log)" = older ]
verdict '-o onto the file that standard output goes to would lose it' $?
"$TURNLAY" plan -o log good.lay >"$out" 2>>log
code=$?
[ "$code" = 2 ] && grep -q older log && grep -q 'where standard error goes' log
verdict '-o onto the file that standard error goes to would lose it' $?
"$TURNLAY" plan -MF log -o page good.lay >"$out" 2>>log
code=$?
[ "$code" = 2 ] && grep -q older log && ! [ -e page ]
verdict '-MF onto that file, too' $?
refuse 'an output without a name' plan -o '' good.lay
refuse '-MF without a name in it' plan -MF '' good.lay
expect 3 '-o with a stroke at the end' plan -o nothing/ good.lay
no_file 'it makes no file' nothing
