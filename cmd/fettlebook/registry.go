package main

import (
	"context"
	"fmt"
	"os"
	"text/tabwriter"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"fettlebook/assess/inspection"
	"fettlebook/assess/term"
	"fettlebook/assets"
)

type listCommand struct {
	Words []string `arg:"" optional:"" help:"Words that must all occur."`
	JSON  bool     `name:"json" help:"As JSON."`
}

func (c *listCommand) Run(ctx context.Context, g *Globals) error {
	b, err := g.read(ctx)
	if err != nil {
		return err
	}
	defer b.Close()
	rows := []inspection.Row{}
	q := inspection.Query{Words: c.Words}
	for {
		page, err := b.Find(ctx, q)
		if err != nil {
			return err
		}
		rows = append(rows, page.Rows...)
		if q.After = page.Next; q.After == "" {
			break
		}
	}
	if c.JSON {
		return printJSON(rows)
	}
	w := tabwriter.NewWriter(os.Stdout, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "RECORD\tUNIT\tSERIAL\tOWNER\tRECEIVED\tOUTCOME")
	for _, r := range rows {
		fmt.Fprintf(w, "%s\t%s\t%s\t%s\t%s\t%s\n", r.Record, r.Unit, r.Serial, r.Owner, r.Received, r.Outcome)
	}
	return w.Flush()
}

func printJSON(v any) error {
	if err := json.MarshalWrite(os.Stdout, v, jsontext.WithIndent("  "), json.Deterministic(true)); err != nil {
		return err
	}
	_, err := fmt.Println()
	return err
}

type showCommand struct {
	Record string `arg:"" help:"Id or words of a record in the archive, or a record's JSON file."`
}

func (c *showCommand) Run(ctx context.Context, g *Globals) error {
	n, done, err := g.look(ctx, c.Record)
	if err != nil {
		return err
	}
	defer done()
	return printJSON(n.Record())
}

type gradeCommand struct {
	Record string    `arg:"" help:"Id or words of a record in the archive, or a record's JSON file."`
	Duty   term.Duty `help:"Judge for this duty instead of the record's own: yard, road or hard."`
	JSON   bool      `name:"json" help:"As JSON."`
}

func (c *gradeCommand) Run(ctx context.Context, g *Globals) error {
	n, done, err := g.look(ctx, c.Record)
	if err != nil {
		return err
	}
	defer done()
	a := n.Assessment()
	if c.Duty != "" {
		a = n.AssessmentFor(c.Duty)
	}
	if c.JSON {
		return printJSON(a)
	}
	printGrades(n, a)
	return nil
}

func printGrades(n *inspection.Inspection, a *inspection.Assessment) {
	fmt.Printf("%s, judged for %s duty\n%s\n\n", n.Record().Unit.Says(), a.Duty, inspection.Summary(a))
	w := tabwriter.NewWriter(os.Stdout, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "PART\tGRADE\tWHAT TO DO\tWHY")
	for i := range a.Parts {
		p := &a.Parts[i]
		do := ""
		if len(p.Actions) > 0 {
			do = term.Plain(p.Actions[0].Do)
		}
		why := p.Why
		if len(p.Inspect) > 0 {
			why = "to be inspected: " + p.Inspect[0].Text
		}
		fmt.Fprintf(w, "%s\t%s\t%s\t%s\n", p.Name, p.Grade, do, why)
	}
	w.Flush()
}

type schemaCommand struct{}

func (schemaCommand) Run() error {
	_, err := os.Stdout.Write(assets.RecordSchema())
	return err
}
