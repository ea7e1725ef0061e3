// Package assets holds the bytes that the program carries with it: specs,
// fonts, the icon, the JSON Schema of a record, and the demo.
package assets

import (
	"embed"
	"io/fs"
)

//go:embed specs
var specs embed.FS

//go:embed fonts icons schema demo/photos demo/specs demo/photos.json demo/story.toml
var files embed.FS

// Specs is the folder of the program's own specs, TOML files below its root.
func Specs() fs.FS { return sub(specs, "specs") }

// Demo is the folder of the demo: photos, a user's own spec, and the story.
func Demo() fs.FS { return sub(files, "demo") }

// Fonts is the folder of the typeface that reports are set in.
func Fonts() fs.FS { return sub(files, "fonts") }

// Icon is the program's icon, a PNG.
func Icon() []byte { return must(files.ReadFile("icons/app.png")) }

// RecordSchema is the JSON Schema (2020-12) of a record.
func RecordSchema() []byte { return must(files.ReadFile("schema/record.schema.json")) }

// sub and must panic only if the program was built without its files.
func sub(root embed.FS, dir string) fs.FS { return must(fs.Sub(root, dir)) }

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}
