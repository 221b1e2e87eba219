// Package page is the coach in the phone's page: the engine with messages in and
// messages out, so that it can be compiled for the browser and fed with the very
// text the page sends to the service. New makes an Engine; Hear takes one message
// and returns what it caused.
//
// It refuses what package phonemsg refuses, with the same errors, and takes
// nothing of a refused message. It opens no link, keeps no file and looks at no
// clock: times are those of the phone that feeds it.
package page
