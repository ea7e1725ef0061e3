// Package photo reads photo files that come from strangers: it tells what a
// file is by its content, refuses what is no photo or too large before a
// pixel is decoded, reads the camera's data, hashes the original, decodes
// it, and makes the reduced views of it.
//
// A file is opened with [Open] (a path) or [New] (bytes that are already
// somewhere, such as a blob of the archive), which reads no more than its
// header. [File.Hash], [File.Decode] and [File.Reader] then read the rest.
// Every refusal is an [*Error] that names the file, has one [Kind] of a
// closed set and says what to do. Nothing here panics on a file, and nothing
// here writes to one.
//
// Pictures stay as stored, never turned, because outlines are kept in stored
// pixels; [Orientation] carries points and pictures from there to upright
// and back.
//
// All functions may be called from several goroutines, a [File] from one at
// a time. Each photo is worked on by one goroutine: callers that want speed
// run several photos side by side.
package photo
