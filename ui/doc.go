// Package ui is the window: the register, the inspection of one record, and
// what stands between them. It shows, asks and calls; it judges nothing, keeps
// nothing and does no arithmetic of the trade.
//
// [Run] opens the window on a bench and returns when it is closed. Everything
// in here runs on Fyne's own thread, except for what waits for the archive or
// decodes a picture: that runs beside it and comes back through [frame.later]
// with the number of the question, so that a late answer to an old one is
// dropped.
//
// Two places share the window, each with its own keys (keys.go): the register
// and the inspection. What the window remembers for itself lies in a file of
// the user's (settings.go); everything that belongs to a record lies in the
// archive.
package ui
