# Gathers what `go test -bench` prints into one table. A figure that matters is
# reported by its benchmark with b.ReportMetric(x, unit): its unit is "ratio" (to
# a floor measured in the same run), or a word of its own such as x-real-time,
# ms-p99 or MB. Go's own ns/op, B/op and allocs/op are left out where there is one.
/^pkg:/ { package = $2; sub(/^helmcue\/internal\//, "", package) }
/^(FAIL|---|panic:)/ { print; failed = 1 }
/^Benchmark/ {
	name = $1; sub(/^Benchmark/, "", name); sub(/-[0-9]+$/, "", name)
	own = ""; plain = ""
	for (i = 3; i < NF; i += 2) {
		figure = $i " " $(i + 1)
		if ($(i + 1) ~ /^(B|allocs)\/op$/) continue
		if ($(i + 1) ~ /^(ns\/op|MB\/s)$/) plain = plain "  " figure
		else own = own "  " figure
	}
	if (!seen++) printf "%-14s %-34s %s\n", "room", "what", "figures"
	printf "%-14s %-34s %s\n", package, name, own != "" ? own : plain
}
END {
	if (!seen) { print "no benchmark ran: expected lines beginning with Benchmark" > "/dev/stderr"; exit 1 }
	exit failed
}
