#!/bin/sh
# Makes the clips of one voice that do not exist yet or whose text has changed,
# takes away those without a use, then measures all of them into its manifest:
# make-clips.sh isla|ned. Needs festival with its voice and ffmpeg; `make voices`
# brings them.
#
# The chain was chosen by measurement in wind, flapping sails and talk: a
# high-pass that drops what wind masks anyway, a tilt that lifts consonants, a
# compressor that lifts their ends, a limiter at 192 kHz that leaves room for what
# MP3 adds to peaks. Change it and every clip must be made anew: raise CHAIN.
set -e
CHAIN=1
cd "$(dirname "$0")"
voice=$1
case $voice in
isla) say='(voice_cmu_us_slt_arctic_hts)' slow='(set! hts_engine_params (append hts_engine_params (list (list "-r" 0.9))))' ;;
ned) say='(voice_kal_diphone)' slow="(Parameter.set 'Duration_Stretch 1.111)" ;;
*) echo "expected isla or ned, got '$voice'" >&2; exit 2 ;;
esac
mkdir -p "$voice"
[ "$(cat "$voice/chain" 2>/dev/null)" = "$CHAIN" ] || rm -f "$voice"/*.mp3
echo $CHAIN > "$voice/chain"
dir=$(mktemp -d); trap 'rm -r "$dir"' EXIT

ff() { ffmpeg -v error -y "$@" </dev/null; }
lufs() { # integrated, with 0.4 s of silence on either side
  ffmpeg -hide_banner -nostats -i "$1" -af "adelay=400,apad=pad_dur=0.4,ebur128" -f null - 2>&1 </dev/null |
    awk '/I:/ {v=$2} END {print v}'
}
trim='silenceremove=start_periods=1:start_threshold=-55dB:start_silence=0.01:detection=rms:window=0.005'
ends="$trim,areverse,$trim,areverse"
minus() { awk -v a="$1" -v b="$2" 'BEGIN {printf "%.2f", a - b}'; }
level() { # gain, in, out
  ff -i "$2" -af "volume=$1dB,aresample=192000,alimiter=limit=0.67:attack=1:release=30:level=false,aresample=48000,$ends,afade=t=in:d=0.005,areverse,afade=t=in:d=0.005,areverse" -c:a pcm_s16le "$3"
}
clip() { # words, out
  printf '%s\n' "$1" | text2wave -eval "$say" -eval "$slow" -o "$dir/raw.wav"
  ff -i "$dir/raw.wav" -af aresample=48000 -c:a pcm_f32le "$dir/a.wav"
  ff -i "$dir/a.wav" -af "volume=$(minus -20 "$(lufs "$dir/a.wav")")dB,$ends,apad=pad_dur=0.05,highpass=f=300,firequalizer=gain='if(lt(f,1000),0,3*log(min(f,8000)/1000)/log(2))',acompressor=threshold=-32dB:ratio=4:attack=2:release=50:detection=rms" -c:a pcm_f32le "$dir/b.wav"
  start=$(minus -16 "$(lufs "$dir/b.wav")"); g=$start
  for _ in 1 2 3; do # the limiter takes some loudness; give it back, at most 4 dB
    level "$g" "$dir/b.wav" "$dir/c.wav"
    g=$(awk -v g="$g" -v d="$(minus -16 "$(lufs "$dir/c.wav")")" -v s="$start" 'BEGIN {n = g + d; if (n > s + 4) n = s + 4; printf "%.2f", n}')
  done
  ff -i "$dir/c.wav" -map_metadata -1 -c:a libmp3lame -b:a 64k -write_xing 0 -id3v2_version 0 -fflags +bitexact "$2"
}

(cd .. && go run ./voices/texts) > "$dir/texts"
tab=$(printf '\t')
before() { # the text that a clip was made from, which may differ in its commas alone
  awk -v clip="  \"$1\": {" '$0 == clip {getline; sub(/^ *"text": "/, ""); sub(/",$/, ""); print}' "$voice/manifest.json" 2>/dev/null || true
}
for file in "$voice"/*.mp3; do
  [ -e "$file" ] || continue
  name=$(basename "$file" .mp3)
  grep -q "^$name$tab" "$dir/texts" || rm "$file"
done
while IFS="$tab" read -r name words; do
  old=$(before "$name")
  [ -s "$voice/$name.mp3" ] && { [ -z "$old" ] || [ "$old" = "$words" ]; } && continue
  echo "$voice: $words"
  clip "$words" "$dir/out.mp3"
  mv "$dir/out.mp3" "$voice/$name.mp3"
done < "$dir/texts"
(cd .. && go run ./voices/measure "voices/$voice")
