module helmcue

go 1.26.8

require (
	github.com/adrianmo/go-nmea v1.10.0
	github.com/alecthomas/kong v1.12.0
	github.com/chromedp/cdproto v0.0.0-20250724212937-08a3db8b4327
	github.com/chromedp/chromedp v0.14.2
	github.com/foxglove/mcap/go/mcap v1.7.3
	github.com/gorilla/websocket v1.5.3
	github.com/hajimehoshi/go-mp3 v0.3.4
	github.com/hajimehoshi/oto/v2 v2.4.3
	github.com/klauspost/compress v1.16.7
	github.com/muktihari/fit v0.24.3
	github.com/paulmach/orb v0.12.0
	github.com/pelletier/go-toml/v2 v2.2.4
	github.com/rogpeppe/go-internal v1.14.1
	github.com/santhosh-tekuri/jsonschema/v6 v6.0.2
	github.com/schollz/progressbar/v3 v3.18.0
	github.com/skip2/go-qrcode v0.0.0-20200617195104-da1b6568686e
	github.com/tidwall/geodesic v1.52.4
	github.com/tkrajina/gpxgo v1.4.0
	go.uber.org/zap v1.27.0
	golang.org/x/term v0.29.0
	golang.org/x/time v0.9.0
	golang.org/x/tools v0.30.0
	gonum.org/v1/gonum v0.16.0
	pgregory.net/rapid v1.2.0
)

require (
	github.com/BurntSushi/toml v1.4.1-0.20240526193622-a339e1f7089c // indirect
	github.com/chromedp/sysutil v1.1.0 // indirect
	github.com/creack/goselect v0.1.2 // indirect
	github.com/davecgh/go-spew v1.1.1 // indirect
	github.com/ebitengine/purego v0.4.1 // indirect
	github.com/go-json-experiment/json v0.0.0-20250725192818-e39067aee2d2 // indirect
	github.com/gobwas/httphead v0.1.0 // indirect
	github.com/gobwas/pool v0.2.1 // indirect
	github.com/gobwas/ws v1.4.0 // indirect
	github.com/mitchellh/colorstring v0.0.0-20190213212951-d06e56a500db // indirect
	github.com/pierrec/lz4/v4 v4.1.22 // indirect
	github.com/pion/logging v0.2.2 // indirect
	github.com/pion/mdns/v2 v2.0.7 // indirect
	github.com/pmezard/go-difflib v1.0.0 // indirect
	github.com/rivo/uniseg v0.4.7 // indirect
	github.com/stretchr/testify v1.9.0 // indirect
	go.bug.st/serial v1.6.4 // indirect
	go.mongodb.org/mongo-driver v1.11.4 // indirect
	go.uber.org/multierr v1.10.0 // indirect
	golang.org/x/exp/typeparams v0.0.0-20231108232855-2478ac86f678 // indirect
	golang.org/x/mod v0.23.0 // indirect
	golang.org/x/net v0.35.0 // indirect
	golang.org/x/sync v0.12.0
	golang.org/x/sys v0.34.0 // indirect
	golang.org/x/text v0.23.0 // indirect
	gopkg.in/yaml.v3 v3.0.1 // indirect
	honnef.co/go/tools v0.6.1 // indirect
)

tool honnef.co/go/tools/cmd/staticcheck
