# The same bytes wherever the decimal sign is a comma.
mkdir locales
if localedef -i de_DE -f UTF-8 "$PWD/locales/de_DE.UTF-8" >/dev/null 2>&1 &&
    [ "$(env LOCPATH="$PWD/locales" LC_ALL=de_DE.UTF-8 printf '%.1f' 1,5 2>/dev/null)" = 1,5 ]; then
    for arguments in 'plan' 'plan --format json' 'plan --format csv' 'need' 'need --format csv' \
        'draw --scale 1.5' 'draw --view side' 'draw --view unrolled' 'draw --view eye' 'draw --view presentation' 'check'; do
        turnlay $arguments good.lay
        cp "$out" expected
        env LOCPATH="$PWD/locales" LC_ALL=de_DE.UTF-8 "$TURNLAY" $arguments good.lay >"$out" 2>"$err"
        code=$?
        same "$arguments is the same with a comma as the decimal sign" "$out" expected
    done
else
    skip 'a comma as the decimal sign' 'localedef cannot make the locale here'
fi
