#!/usr/bin/env bash
# Start of `whetwright set` next to an empty program, both published ReadyToRun in the same form; mean of N runs each, taken in turn.
# usage: bench/Startup/run.sh [N]
set -euo pipefail
cd "$(dirname "$0")/../.."
runs=${1:-30}
out=$(mktemp -d)
trap 'rm -rf "$out"' EXIT
publish() { dotnet publish "$1" -c Release -r linux-x64 --self-contained false -p:PublishReadyToRun=true -o "$2" -v q -nologo >/dev/null; }
publish src/Cli "$out/whetwright"
publish bench/Startup/Empty "$out/empty"
sample=samples/kitchen-knife
once() { local start end; start=$(date +%s%N); "$@" >/dev/null; end=$(date +%s%N); echo $(( (end - start) / 1000 )); }
empty=0 set=0
for _ in 1 2 3; do once "$out/empty/Empty" >/dev/null; once "$out/whetwright/whetwright" set $sample/blade.json --rig $sample/rig.json --angle-deg 14 --tolerance-deg 1 >/dev/null; done
for _ in $(seq "$runs"); do
  empty=$((empty + $(once "$out/empty/Empty")))
  set=$((set + $(once "$out/whetwright/whetwright" set $sample/blade.json --rig $sample/rig.json --angle-deg 14 --tolerance-deg 1)))
done
awk -v e="$empty" -v s="$set" -v n="$runs" 'BEGIN { printf "empty program %.1f ms, whetwright set %.1f ms: %.2f times (mean of %d)\n", e/n/1000, s/n/1000, s/e, n }'
