package api

import (
	"context"
	"fmt"
	"math"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"leste/airsupply"
	"leste/catalogue"
	"leste/job"
	q "leste/quantity"
	"leste/web/view"
)

// Air is the air supply of a job: the network with its pressures, the blowers with their curves, the cases.
type Air struct {
	Measured bool           `json:"measured" doc:"Plenum pressures were measured; there is no blower in the answer."`
	Flow     view.Number    `json:"flow_kg_s"`
	Grid     view.Number    `json:"grid_w"`
	Leak     view.Number    `json:"leak_kg_s"`
	Blowers  []AirBlower    `json:"blowers"`
	Branches []AirBranch    `json:"branches" doc:"Joins of two places each: blowers, junctions, outlets."`
	Outlets  []AirOutlet    `json:"outlets"`
	Cases    []AirCase      `json:"cases" doc:"The nominal one first."`
	Choice   []AirCandidate `json:"candidates" doc:"Machines of the catalogue that were compared where the job names none."`
	Notes    []Note         `json:"notes"`
}

// AirBlower is one blower at its operating point.
type AirBlower struct {
	Name      string       `json:"name"`
	Path      *string      `json:"path" doc:"In the file; null for one that was chosen."`
	Inlet     view.Number  `json:"inlet_m3_s"`
	Rise      view.Number  `json:"rise_pa"`
	Suction   view.Number  `json:"suction_pa" doc:"At its inlet, gauge."`
	Filter    view.Number  `json:"filter_pa"`
	Speed     view.Number  `json:"speed_ratio"`
	Shaft     view.Number  `json:"shaft_w"`
	Grid      view.Number  `json:"grid_w"`
	Motor     view.Number  `json:"motor_w" doc:"Rated."`
	Discharge view.Number  `json:"discharge_c"`
	Least     view.Number  `json:"least_m3_s" doc:"Flow at this speed, below which it surges."`
	Most      view.Number  `json:"most_m3_s"`
	Reserve   view.Number  `json:"flow_reserve_pct" doc:"Inlet flow over the least flow, less one."`
	Curve     Curve        `json:"curve" doc:"Pressure rise at this speed."`
	System    Curve        `json:"system" doc:"What the system asks for: the square of the flow through the operating point."`
	Points    []CurvePoint `json:"cases" doc:"Operating points of the other cases."`
}

// A Curve is pressures by inlet flows.
type Curve struct {
	Inlet view.Numbers `json:"inlet_m3_s"`
	Rise  view.Numbers `json:"rise_pa"`
}

// A CurvePoint is the operating point of one case.
type CurvePoint struct {
	Case  string      `json:"case"`
	Inlet view.Number `json:"inlet_m3_s"`
	Rise  view.Number `json:"rise_pa"`
}

// AirBranch is one branch of the network.
type AirBranch struct {
	Name   string      `json:"name"`
	From   string      `json:"from"`
	To     string      `json:"to"`
	Path   *string     `json:"path" doc:"In the file; null for one that was assumed."`
	Flow   view.Number `json:"flow_kg_s"`
	Start  view.Number `json:"start_pa"`
	End    view.Number `json:"end_pa"`
	Loss   view.Number `json:"loss_pa"`
	Share  view.Number `json:"share_pct" doc:"Of the blower's rise."`
	Speed  view.Number `json:"speed_m_s" doc:"Greatest in it."`
	Pieces []AirPiece  `json:"pieces"`
}

// AirPiece is one duct, hose or fitting.
type AirPiece struct {
	Name  string      `json:"name"`
	Loss  view.Number `json:"loss_pa"`
	Speed view.Number `json:"speed_m_s"`
}

// AirOutlet is one outlet.
type AirOutlet struct {
	Name    string      `json:"name"`
	Path    *string     `json:"path"`
	Main    bool        `json:"compressed_air" doc:"It hangs on the compressed-air main."`
	Feed    view.Number `json:"feed_pa"`
	Plenum  view.Number `json:"plenum_pa" doc:"At the dead end."`
	Jet     view.Number `json:"jet_m_s"`
	Slowest view.Number `json:"slowest_m_s"`
	Fastest view.Number `json:"fastest_m_s"`
	Flow    view.Number `json:"flow_kg_s"`
	Thrust  view.Number `json:"thrust_n"`
	Air     view.Number `json:"air_c"`
}

// AirCase is the air side in one case.
type AirCase struct {
	Name      string      `json:"name"`
	Refused   *string     `json:"refused" doc:"Why it has no operating point."`
	Flow      view.Number `json:"flow_kg_s"`
	Grid      view.Number `json:"grid_w"`
	Discharge view.Number `json:"discharge_c" doc:"Of the hottest blower."`
	Thrust    view.Number `json:"thrust_n"`
}

// AirCandidate is one machine of the catalogue set to the duty.
type AirCandidate struct {
	Part     string      `json:"part"`
	Rejected *string     `json:"rejected" doc:"Why it does not do."`
	Speed    view.Number `json:"speed_ratio"`
	Grid     view.Number `json:"grid_w"`
	Motor    view.Number `json:"motor_w"`
	Reserve  view.Number `json:"pressure_reserve_pct"`
}

func (a *api) airOperations(h huma.API) {
	huma.Register(h, operation("air", http.MethodGet, "/jobs/{job}/air", "The air supply: network, pressures, curves, cases", tagView, 404, 422, 500), a.air)
}

func (a *api) air(ctx context.Context, in *JobIn) (*struct{ Body Air }, error) {
	s, err := a.sound(in.Job)
	if err != nil {
		return nil, err
	}
	filled := job.Clone(s.Job)
	job.Fill(filled)
	none := true
	for i := range filled.Stations {
		none = none && len(filled.Stations[i].Outlets) == 0
	}
	if none {
		return nil, refused(http.StatusNotFound, codeNothing, "The job has no outlets, so that there is no air side")
	}
	parts := a.Parts
	if parts == nil {
		generic := catalogue.GenericParts()
		parts = &generic
	}
	supply, err := airsupply.Assess(ctx, s.Job, *parts)
	if err != nil {
		return nil, faultOf(err, &s)
	}
	return &struct{ Body Air }{airOf(s.Job, &supply)}, nil
}

const percent = 100

func airOf(j *job.Job, s *airsupply.Supply) Air {
	op := &s.Nominal
	out := Air{
		Flow: view.Number(op.Flow + s.Compressed.Flow), Grid: view.Number(op.Grid), Leak: view.Number(op.Leak),
		Blowers: []AirBlower{}, Branches: []AirBranch{}, Outlets: []AirOutlet{}, Cases: []AirCase{}, Choice: []AirCandidate{}, Notes: []Note{},
	}
	out.Measured = s.Plan != nil && s.Plan.Network == nil && len(op.Outlets) > 0
	for _, x := range []struct {
		op   *airsupply.Operation
		main bool
	}{{op, false}, {&s.Compressed, true}} {
		for i := range x.op.Outlets {
			o := &x.op.Outlets[i]
			out.Outlets = append(out.Outlets, AirOutlet{
				Name: o.Name, Path: outletPath(j, o.Name), Main: x.main, Feed: view.Number(o.Feed), Plenum: view.Number(o.DeadEnd),
				Jet: view.Number(o.Velocity), Slowest: view.Number(o.Slowest), Fastest: view.Number(o.Fastest), Flow: view.Number(o.Flow),
				Thrust: view.Number(o.Thrust), Air: view.Number(o.Stagnation.C()),
			})
		}
	}
	for _, n := range s.Notes {
		out.Notes = append(out.Notes, Note{string(n.Severity), orNull(n.Relation), n.Text, exactly(n.Value), exactly(n.Limit), n.Unit})
	}
	if s.Plan == nil || s.Plan.Network == nil {
		return out
	}
	for i := range op.Blowers {
		out.Blowers = append(out.Blowers, blowerOf(j, s, i))
	}
	for i := range op.Branches {
		b := &op.Branches[i]
		x := AirBranch{
			Name: b.Name, Flow: view.Number(b.Flow), Start: view.Number(b.Start), End: view.Number(b.End), Loss: view.Number(b.Loss),
			Share: view.Number(percent * b.Share), Speed: view.Number(b.Speed), Pieces: []AirPiece{},
		}
		if i < len(s.Plan.Network.Branches) {
			x.From, x.To = s.Plan.Network.Branches[i].From, s.Plan.Network.Branches[i].To
		}
		if i < len(j.AirSupply.Branches) {
			x.Path = orNull(fmt.Sprintf("/air_supply/branches/%d", i))
		}
		for _, p := range b.Pieces {
			x.Pieces = append(x.Pieces, AirPiece{p.Name, view.Number(p.Loss), view.Number(p.Speed)})
		}
		out.Branches = append(out.Branches, x)
	}
	for _, c := range s.Study.Cases {
		x := AirCase{Name: c.Name, Refused: orNull(c.Refused)}
		nan := view.Number(math.NaN())
		x.Flow, x.Grid, x.Discharge, x.Thrust = nan, nan, nan, nan
		if c.Refused == "" {
			hottest := q.Temperature(0)
			for _, b := range c.Operation.Blowers {
				hottest = max(hottest, b.Discharge)
			}
			x.Flow, x.Grid, x.Thrust = view.Number(c.Operation.Flow), view.Number(c.Operation.Grid), view.Number(c.Operation.Thrust)
			if hottest > 0 {
				x.Discharge = view.Number(hottest.C())
			}
		}
		out.Cases = append(out.Cases, x)
	}
	for _, c := range s.Plan.Candidates {
		out.Choice = append(out.Choice, AirCandidate{
			c.Part, orNull(c.Rejected), view.Number(c.Speed), view.Number(c.Grid), view.Number(c.Motor), view.Number(percent * c.Reserve),
		})
	}
	return out
}

func outletPath(j *job.Job, name string) *string {
	for i := range j.Stations {
		for k := range j.Stations[i].Outlets {
			if j.Stations[i].Outlets[k].Name == name {
				return orNull(fmt.Sprintf("/stations/%d/outlets/%d", i, k))
			}
		}
	}
	return nil
}

func blowerOf(j *job.Job, s *airsupply.Supply, i int) AirBlower {
	b := &s.Nominal.Blowers[i]
	out := AirBlower{
		Name: b.Name, Inlet: view.Number(b.Inlet), Rise: view.Number(b.Rise), Suction: view.Number(b.Suction), Filter: view.Number(b.Filter),
		Speed: view.Number(b.Speed), Shaft: view.Number(b.Drive.Shaft), Grid: view.Number(b.Drive.Grid), Motor: view.Number(b.MotorRated),
		Discharge: view.Number(b.Discharge.C()), Least: view.Number(b.MinimumFlow), Most: view.Number(b.MaximumFlow),
		Reserve: view.Number(percent * b.Reserve), Points: []CurvePoint{},
		Curve: Curve{view.Numbers{}, view.Numbers{}}, System: Curve{view.Numbers{}, view.Numbers{}},
	}
	for k := range j.AirSupply.Blowers {
		if j.AirSupply.Blowers[k].Name == b.Name {
			out.Path = orNull(fmt.Sprintf("/air_supply/blowers/%d", k))
		}
	}
	for n, c := range s.Study.Cases {
		if n > 0 && i < len(c.Operation.Blowers) {
			x := &c.Operation.Blowers[i]
			out.Points = append(out.Points, CurvePoint{c.Name, view.Number(x.Inlet), view.Number(x.Rise)})
		}
	}
	for _, p := range s.Curve(i) {
		out.Curve.Inlet, out.Curve.Rise = append(out.Curve.Inlet, float64(p.Inlet)), append(out.Curve.Rise, float64(p.Rise))
		out.System.Inlet, out.System.Rise = append(out.System.Inlet, float64(p.Inlet)), append(out.System.Rise, float64(p.System))
	}
	return out
}
