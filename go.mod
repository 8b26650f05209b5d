module steelyard

go 1.26.0

require (
	codeberg.org/go-fonts/dejavu v0.4.0
	codeberg.org/go-fonts/liberation v0.6.0
	github.com/alecthomas/kong v1.17.0
	github.com/rogpeppe/go-internal v1.16.0
	github.com/santhosh-tekuri/jsonschema/v6 v6.0.3
	github.com/tdewolff/font v0.0.0-20250430140153-b654fd8acba3
	github.com/vbauerster/mpb/v8 v8.16.2
	golang.org/x/image v0.47.0
	golang.org/x/sys v0.49.0
	golang.org/x/text v0.43.0
	gonum.org/v1/gonum v0.17.0
)

require (
	github.com/VividCortex/ewma v1.2.0 // indirect
	github.com/acarl005/stripansi v0.0.0-20180116102854-5a71ef0e047d // indirect
	github.com/andybalholm/brotli v1.1.1 // indirect
	github.com/clipperhouse/uax29/v2 v2.7.0 // indirect
	github.com/golang/freetype v0.0.0-20170609003504-e2365dfdc4a0 // indirect
	github.com/mattn/go-runewidth v0.0.30 // indirect
	github.com/tdewolff/parse/v2 v2.7.22 // indirect
	github.com/vbauerster/cupwriter v0.0.5 // indirect
	golang.org/x/tools v0.51.0 // indirect
)
