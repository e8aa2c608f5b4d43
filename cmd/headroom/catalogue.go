package main

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"
	"gopkg.in/yaml.v3"

	"headroom/specs/catalogue"
	"headroom/specs/quantity"
)

func newCatalogue() *cobra.Command {
	return &cobra.Command{
		Use:   "catalogue [NAME]",
		Short: "List what a spec may refer to by name, or show one entry with its sources",
		Long: `Without a name, list fluids, hose and tube grades, seal materials, tube materials
and fluid families. With one, show its values, each with its source and how sure
it is: published, common practice, or from memory.`,
		Args: needs(0, "NAME"),
		RunE: func(cmd *cobra.Command, args []string) error {
			w := tabwriter.NewWriter(cmd.OutOrStdout(), 0, 0, 2, ' ', 0)
			if len(args) == 0 {
				listCatalogue(w)
			} else if err := showCatalogue(w, args[0]); err != nil {
				return err
			}
			return w.Flush()
		},
	}
}

// listCatalogue writes one line an entry, kind by kind.
func listCatalogue(w io.Writer) {
	entries := func(title string, list []catalogue.Entry) {
		fmt.Fprintf(w, "%s\n", title)
		for _, e := range list {
			fmt.Fprintf(w, "  %s\t%s\n", e.Name, e.About)
		}
	}
	entries("fluids (fluid: {like: NAME})", catalogue.Fluids())
	entries("\nhose and tube grades (parts: {PART: {like: NAME}})", catalogue.Parts())
	fmt.Fprintf(w, "\nseal materials\n")
	for _, s := range catalogue.Seals() {
		fmt.Fprintf(w, "  %s\t%s\n", s.Symbol, s.Name)
	}
	fmt.Fprintf(w, "\ntube materials\n")
	for _, t := range catalogue.Tubes() {
		fmt.Fprintf(w, "  %s\t%s\n", t.Name, t.About)
	}
	fmt.Fprintf(w, "\nfluid families\n")
	for _, f := range catalogue.Families() {
		fmt.Fprintf(w, "  %s\t%s\n", f.Symbol, f.Name)
	}
}

// showCatalogue writes one entry, whatever its kind.
func showCatalogue(w io.Writer, name string) error {
	if e, ok := catalogue.Fluid(name); ok {
		return showEntry(w, e)
	}
	if e, ok := catalogue.Part(name); ok {
		return showEntry(w, e)
	}
	if s, ok := catalogue.Seal(name); ok {
		showSeal(w, s)
		return nil
	}
	if t, ok := catalogue.Tube(name); ok {
		showTube(w, t)
		return nil
	}
	if f, ok := catalogue.Family(name); ok {
		showFamily(w, f)
		return nil
	}
	var known []string
	for _, kind := range []string{"fluid", "part", "seal-material", "tube-material", "fluid-family"} {
		known = append(known, catalogue.Names(kind)...)
	}
	return fmt.Errorf("the catalogue has no %s%s", name, didYouMean(name, known))
}

// showEntry writes a fluid or a grade in the keys of a spec.
func showEntry(w io.Writer, e catalogue.Entry) error {
	fmt.Fprintf(w, "%s · %s · %s\n", e.Name, e.Kind, e.About)
	for i := 0; i+1 < len(e.Values.Content); i += 2 {
		key, value := e.Values.Content[i].Value, e.Values.Content[i+1]
		value.Style |= yaml.FlowStyle
		text, err := yaml.Marshal(value)
		if err != nil {
			return fmt.Errorf("cannot show %s: %w", e.Name, err)
		}
		row(w, key, strings.Join(strings.Fields(string(text)), " "), sourceOf(e.Source(key)))
	}
	if e.MassPerMetre > 0 {
		row(w, "mass per metre", quantity.Mass.Format(e.MassPerMetre), sourceOf(e.Source("mass_per_metre")))
	}
	return nil
}

func showSeal(w io.Writer, s catalogue.SealMaterial) {
	fmt.Fprintf(w, "%s · seal material · %s, %s\n", s.Symbol, s.Name, s.Standard)
	row(w, "min temperature", quantity.Temperature.Format(s.MinTemperature), sourceOf(s.Source("temperature")))
	row(w, "max temperature", quantity.Temperature.Format(s.MaxTemperature), sourceOf(s.Source("temperature")))
	row(w, "hardness", fmt.Sprintf("%g Shore A", s.Hardness), sourceOf(s.Source("hardness")))
	if s.ReciprocatingSpeed > 0 {
		row(w, "rod and piston speed", quantity.Velocity.Format(s.ReciprocatingSpeed), sourceOf(s.Source("speed")))
	}
	if s.RotarySpeed > 0 {
		row(w, "shaft speed", quantity.Velocity.Format(s.RotarySpeed), sourceOf(s.Source("speed")))
	}
	for _, f := range catalogue.Families() {
		fit, ok := s.In(f.Symbol)
		if !ok {
			continue
		}
		rating := string(fit.Rating)
		if fit.Firm {
			rating += " (firm)"
		}
		if fit.Note != "" {
			rating += ": " + fit.Note
		}
		row(w, "in "+f.Symbol, rating, fmt.Sprintf("%s (%s)", fit.Source, fit.Mark))
	}
	note(w, s.Note)
}

func showTube(w io.Writer, t catalogue.TubeMaterial) {
	fmt.Fprintf(w, "%s · tube material · %s, %s\n", t.Name, t.About, t.Standard)
	strengths(w, "yield strength", t.Yield, sourceOf(t.Source("yield")))
	strengths(w, "tensile strength", t.Tensile, sourceOf(t.Source("tensile")))
	row(w, "modulus", quantity.PressureDifference.Format(t.Modulus), sourceOf(t.Source("modulus")))
	row(w, "Poisson's ratio", fmt.Sprintf("%g", t.Poisson), sourceOf(t.Source("poisson")))
	row(w, "expansion", quantity.Expansion.Format(t.Expansion), sourceOf(t.Source("expansion")))
	row(w, "density", quantity.Density.Format(t.Density), sourceOf(t.Source("density")))
	note(w, t.Note)
}

func strengths(w io.Writer, name string, points []catalogue.Strength, source string) {
	for _, p := range points {
		row(w, name+" at "+quantity.Temperature.Format(p.Temperature), quantity.PressureDifference.Format(p.Stress), source)
		source = "as above"
	}
}

func showFamily(w io.Writer, f catalogue.FluidFamily) {
	fmt.Fprintf(w, "%s · fluid family · %s, %s\n", f.Symbol, f.Name, f.Standard)
	row(w, "anti-wear", yesNo(f.AntiWear), sourceOf(f.Source("anti_wear")))
	row(w, "water", quantity.Number.Format(f.Water), sourceOf(f.Source("water")))
	if f.MinTemperature > 0 {
		row(w, "usual min temperature", quantity.Temperature.Format(f.MinTemperature), sourceOf(f.Source("temperature")))
	}
	if f.MaxTemperature > 0 {
		row(w, "usual max temperature", quantity.Temperature.Format(f.MaxTemperature), sourceOf(f.Source("temperature")))
	}
	note(w, f.Note)
}

// row writes one value, and its source below it.
func row(w io.Writer, key, value, source string) {
	fmt.Fprintf(w, "  %s\t%s\n", key, value)
	if source != "" {
		fmt.Fprintf(w, "  \t    %s\n", source)
	}
}

func note(w io.Writer, text string) {
	if text != "" {
		fmt.Fprintf(w, "  note: %s\n", text)
	}
}

// sourceOf words where a value comes from.
func sourceOf(s catalogue.Source, ok bool) string {
	if !ok {
		return ""
	}
	return fmt.Sprintf("%s (%s)", s.Source, s.Mark)
}

func yesNo(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}
