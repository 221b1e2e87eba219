# Gathers what `go test -bench` prints into one table. A figure that matters stands
# beside a floor measured in the same run, in one of two ways: the benchmark has a
# sub-benchmark called floor, and its others are printed as so many times that; or
# it reports figures of its own with b.ReportMetric(x, unit), where the unit ratio
# means times a floor. Go's B/op and allocs/op are left out.
/^pkg:/ { package = $2; sub(/^helmcue\/(internal\/)?/, "", package) }
/^(FAIL|---|panic:)/ { print; failed = 1 }
/^Benchmark/ {
	n++
	room[n] = package
	name[n] = $1; sub(/^Benchmark/, "", name[n]); sub(/-[0-9]+$/, "", name[n])
	parent = package " " name[n]; sub(/\/[^\/]*$/, "", parent); of[n] = parent
	for (i = 3; i < NF; i += 2) {
		if ($(i + 1) == "ns/op") {
			ns[n] = $i
			if (name[n] ~ /\/floor$/) floor[parent] = $i
		} else if ($(i + 1) !~ /^(B|allocs)\/op$/) {
			own[n] = own[n] sprintf("%s %s  ", $i, $(i + 1))
		}
	}
}
END {
	if (!n) { print "no benchmark ran: expected lines beginning with Benchmark" > "/dev/stderr"; exit 1 }
	printf "%-13s %-34s %14s  %s\n", "room", "what", "ns/op", "figures"
	for (i = 1; i <= n; i++) {
		if (floor[of[i]] > 0 && name[i] !~ /\/floor$/) own[i] = sprintf("%.1f × floor  ", ns[i] / floor[of[i]]) own[i]
		printf "%-13s %-34s %14.0f  %s\n", room[i], name[i], ns[i], own[i]
	}
	exit failed
}
