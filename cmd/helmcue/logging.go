package main

import (
	"fmt"
	"os"
	"runtime/debug"

	"go.uber.org/zap"
	"go.uber.org/zap/zapcore"
	"golang.org/x/term"
)

// logger writes for people on a terminal and structured lines elsewhere.
func logger(verbose bool) (*zap.Logger, error) {
	conf := zap.NewProductionConfig()
	conf.OutputPaths = []string{"stderr"}
	conf.Sampling = nil
	if term.IsTerminal(int(os.Stderr.Fd())) {
		conf.Encoding = "console"
		conf.EncoderConfig.EncodeTime = zapcore.TimeEncoderOfLayout("15:04:05")
		conf.EncoderConfig.EncodeLevel = zapcore.CapitalLevelEncoder
		conf.DisableCaller, conf.DisableStacktrace = true, true
	}
	if verbose {
		conf.Level = zap.NewAtomicLevelAt(zap.DebugLevel)
	}
	return conf.Build()
}

// say writes a line for the person who started the service.
func say(text string) { fmt.Println(text) }

// version names the build: the module's version, or the commit it was made from.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "helmcue, version unknown"
	}
	for _, s := range info.Settings {
		if s.Key == "vcs.revision" && len(s.Value) >= 12 {
			return "helmcue " + info.Main.Version + " " + s.Value[:12]
		}
	}
	return "helmcue " + info.Main.Version
}
