package report

// The cutting card: what hangs over the bench while the grooves are cut. Its facts are
// those of the set-up sheet; the words stand in templates/benchcard.txt.tmpl.

import (
	"math"
	"strconv"
	"strings"

	"strapwork/pkg/build"
	"strapwork/pkg/geom"
	"strapwork/pkg/paper"
	"strapwork/pkg/plan"
	"strapwork/pkg/sheet"
)

// benchCard is empty for a job that a machine cuts: nothing of it is done by hand. For
// a bar it has the circles in place of set-ups, without a picture, since there is
// nothing to lay in place but the pin.
func (f *facts) benchCard(r build.Result) (paper.Card, error) {
	if f.Alone {
		return paper.Card{}, nil
	}
	w := cardWords{r: r}
	c := paper.Card{
		Title: "Cutting card: " + f.Name, Head: strings.Split(w.say("card head", f), "\n"), Care: w.say("card care", f),
		Ticks: "depth, " + r.Job.Units.String(), Measure: "measured width",
		Passes: each(f.Passes, func(p passFacts) string { return words{r.Job.Units}.deep(p.Depth) }),
	}
	if f.Swung {
		c.Columns = []string{"circle", "name", "pin at", "radius", "hole", "wall"}
		c.SetUps = []paper.CardSetUp{{Title: "The circles", Rows: w.circles(f.Bar.Circles)}}
		return c, w.err
	}
	c.Columns = []string{"cut", "track", "start", "finish"}
	picture := cardPictures(r)
	for i, s := range f.SetUps {
		c.SetUps = append(c.SetUps, paper.CardSetUp{
			Title: w.say("card title", s), Lay: w.say("card lay", cardLay{s, f.Marked}),
			Rows: w.rows(r.Set.Plan.SetUps[i], s), Picture: picture(i),
		})
	}
	return c, w.err
}

// cardLay is how a panel is laid, and whether its letter shows its upper face.
type cardLay struct {
	SetUp  setUpJSON
	Marked bool
}

// againFacts is a cut that runs over others.
type againFacts struct {
	Cut  int
	Over []overlapJSON
}

// cardWords says the card's words, until one can't be said.
type cardWords struct {
	r   build.Result
	err error
}

func (w *cardWords) say(name string, facts any) string {
	text, err := printed(w.r.Job.Units, name, facts)
	if err != nil && w.err == nil {
		w.err = err
	}
	return strings.TrimSpace(text)
}

// rows are a set-up's cuts, what of them is cut already, and the tracks to leave alone.
func (w *cardWords) rows(u plan.SetUp, s setUpJSON) (rows []paper.CardRow) {
	for i, t := range u.Made() {
		c := s.Made[i]
		rows = append(rows, paper.CardRow{Cells: []string{strconv.Itoa(t.Number), t.ID, c.Start.End, c.Stop.End}})
		if len(c.Again) > 0 {
			rows = append(rows, paper.CardRow{Aside: w.say("card again", againFacts{t.Number, c.Again})})
		}
	}
	for _, t := range s.Spare {
		rows = append(rows, paper.CardRow{Cells: []string{"", t.Track}, Aside: w.say("card spare", t)})
	}
	return rows
}

// circles are the swings of each circle: a row for each wall.
func (w *cardWords) circles(list []circleFacts) (rows []paper.CardRow) {
	say := words{w.r.Job.Units}
	walls := []string{"inner", "outer"}
	for i, c := range list {
		for k, h := range c.Holes {
			row := make([]string, 6)
			if k == 0 {
				row = []string{strconv.Itoa(i + 1), strings.Join(c.Elements, ", "), say.place(c.Center), say.number(c.Radius), "", ""}
			}
			row[4] = h.Label
			if len(c.Holes) > 1 {
				row[5] = walls[min(k, 1)]
			}
			rows = append(rows, paper.CardRow{Cells: row})
		}
	}
	return rows
}

// cardPictures returns what draws the set-ups for a size of print. Sizes are rounded
// down, so that set-ups whose rooms are nearly alike are drawn together.
func cardPictures(r build.Result) func(setUp int) func(geom.Point) sheet.Picture {
	const step = 5 // mm
	drawn := map[geom.Point][]sheet.Picture{}
	return func(i int) func(geom.Point) sheet.Picture {
		return func(size geom.Point) sheet.Picture {
			size = geom.Pt(step*math.Floor(size.X/step), step*math.Floor(size.Y/step))
			if drawn[size] == nil {
				for _, c := range r.Cards(size) {
					drawn[size] = append(drawn[size], c.Picture)
				}
			}
			return drawn[size][i]
		}
	}
}
