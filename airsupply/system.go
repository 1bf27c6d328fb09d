package airsupply

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"leste/airsupply/flownet"
	q "leste/quantity"
)

// A Refusal is why no operating point is given: the element and the reason, in one sentence.
type Refusal struct {
	Element   string
	Reason    string
	TooLittle bool // a blower would run below its least flow, or on the rising part of its curve
	Ends      bool // and nothing is known of it there, so that it may well run
}

func (r *Refusal) Error() string {
	if r.Element == "" {
		return r.Reason
	}
	return r.Element + ": " + r.Reason
}

func refuse(element, reason string, args ...any) error {
	return &Refusal{Element: element, Reason: fmt.Sprintf(reason, args...)}
}

// called is the name of a blower in a sentence; one that is named so already is not told twice what it is.
func called(blower string) string {
	if strings.HasPrefix(strings.ToLower(blower), "blower") {
		return blower
	}
	return "blower " + blower
}

const ambientNode = 0

// system is a network laid out for the solver: nodes, links with their laws, junctions. It holds nothing that
// depends on a case but what is blocked.
type system struct {
	network   *Network
	names     []string
	index     map[string]int
	own       map[string]bool // names that a job may not use: of places that it does not see
	links     []link
	junctions []junction
	net       *flownet.Net
	touching  [][]int // links at each node but for inlet and blower

	blowers  []int   // link of each blower
	inlets   []int   // link of each blower's inlet
	outlets  [][]int // links to ambient of each outlet; nil when blocked
	branches []int   // link of each branch; -1 when pruned
	leaks    []int
	cells    []cells // of outlets fed from both ends by two branches
	feeder   []int   // the first blower that feeds each node; -1 without one
}

// link is one link with its law.
type link struct {
	from, to int
	name     string
	law      law
}

// A law gives the loss of a link at a flow; see flownet.Laws. i is the link's own number.
type law interface {
	loss(r *run, i int, flow, from, to float64) (loss, slope float64)
	// conductance is a rough flow [kg/s] per Pa for the first guess; 0 means a path with next to no loss.
	conductance() float64
}

func compile(n *Network, closed []string) (*system, error) {
	s := &system{network: n, index: map[string]int{}, own: map[string]bool{}}
	s.inner("room")
	for _, name := range closed {
		if !slices.ContainsFunc(n.Outlets, func(o Outlet) bool { return o.Name == name }) {
			return nil, refuse("blocked outlet "+quoted(name), "there is no such outlet; there are %s", outletNames(n.Outlets))
		}
	}
	steps := []func() error{s.addBlowers, func() error { return s.addOutlets(closed) }, s.addBranches, s.addLeaks}
	for _, step := range steps {
		if err := step(); err != nil {
			return nil, err
		}
	}
	if err := s.prune(); err != nil {
		return nil, err
	}
	if err := s.addJunctions(); err != nil {
		return nil, err
	}
	return s, s.analyse()
}

func quoted(s string) string { return fmt.Sprintf("%q", s) }

func outletNames(outlets []Outlet) string {
	names := make([]string, len(outlets))
	for i, o := range outlets {
		names[i] = o.Name
	}
	return strings.Join(names, ", ")
}

func (s *system) node(name string) int {
	if v, ok := s.index[name]; ok {
		return v
	}
	v := len(s.names)
	s.names = append(s.names, name)
	s.index[name] = v
	return v
}

// inner is a place that the job does not see.
func (s *system) inner(name string) int {
	s.own[name] = true
	return s.node(name)
}

func (s *system) link(l link) int {
	s.links = append(s.links, l)
	return len(s.links) - 1
}

func (s *system) addBlowers() error {
	if len(s.network.Blowers) == 0 {
		return refuse("", "The network has no blower.")
	}
	root := s.network.joined()
	together := map[string]int{} // blowers that blow into one network
	for i := range s.network.Blowers {
		together[root(s.network.Blowers[i].Name)]++
	}
	for i := range s.network.Blowers {
		b := &s.network.Blowers[i]
		if _, twice := s.index[b.Name]; twice || b.Name == "" {
			return refuse("blower "+quoted(b.Name), "every blower needs a name of its own")
		}
		if b.Source != nil {
			s.inlets = append(s.inlets, -1)
			s.blowers = append(s.blowers, s.link(link{ambientNode, s.node(b.Name), b.Name, &sourceLaw{i}}))
			continue
		}
		if b.Machine == nil {
			return refuse(called(b.Name), "it has no performance curve")
		}
		path, err := newInletWay(&b.Inlet)
		if err != nil {
			return refuse("inlet of blower "+b.Name, "%v", err)
		}
		path.blower = i
		in := s.inner(b.Name + " inlet")
		out := s.node(b.Name)
		s.inlets = append(s.inlets, s.link(link{ambientNode, in, b.Name + " inlet", path}))
		if together[root(b.Name)] == 1 { // alone it needs no flap
			s.blowers = append(s.blowers, s.link(link{in, out, b.Name, &blowerLaw{number: i}}))
			continue
		}
		wheel := s.inner(b.Name + " wheel")
		s.blowers = append(s.blowers, s.link(link{in, wheel, b.Name, &blowerLaw{number: i}}))
		bore := float64(b.Outlet)
		if !(bore > 0) {
			bore = float64(b.Inlet.Bore)
		}
		flap := round("flap", bore)
		flap.k = float64(b.NonReturn)
		s.link(link{wheel, out, b.Name + " flap", &flapLaw{way{flap}}})
	}
	return nil
}

func (s *system) addOutlets(closed []string) error {
	if len(s.network.Outlets) == 0 {
		return refuse("", "The network has no outlet.")
	}
	seen := map[string]bool{}
	for i := range s.network.Outlets {
		o := &s.network.Outlets[i]
		if o.Name == "" || seen[o.Name] {
			return refuse("outlet "+quoted(o.Name), "every outlet needs a name of its own")
		}
		seen[o.Name] = true
		if err := o.check(); err != nil {
			return refuse("outlet "+o.Name, "%v", err)
		}
		s.outlets = append(s.outlets, nil)
		if slices.Contains(closed, o.Name) {
			continue
		}
		if o.Feed == "both ends" && s.arriving(o.Name) > 1 {
			s.addCells(i, o)
			continue
		}
		s.outlets[i] = []int{s.link(link{s.node(o.Name), ambientNode, o.Name, o.mouth()})}
	}
	if !slices.ContainsFunc(s.outlets, func(links []int) bool { return len(links) > 0 }) {
		return refuse("", "All outlets are blocked.")
	}
	return nil
}

// arriving counts the branches that end at a place.
func (s *system) arriving(place string) int {
	n := 0
	for _, b := range s.network.Branches {
		if b.To == place {
			n++
		}
	}
	return n
}

func (s *system) addBranches() error {
	fed := map[string]int{}
	for _, b := range s.network.Branches {
		name := b.Name
		if name == "" {
			name = b.From + " to " + b.To
		}
		if b.From == b.To || b.From == "" || b.To == "" {
			return refuse("branch "+name, "it must join two different places")
		}
		for _, place := range []string{b.From, b.To} {
			if s.own[place] {
				return refuse("branch "+name, "%q is a name the program keeps for itself; call the place otherwise", place)
			}
		}
		var elements way
		var bore float64
		for _, e := range b.Elements {
			next, after, err := pieceOf(e, bore)
			if err != nil {
				return refuse("branch "+name, "%v", err)
			}
			bore = after
			elements = append(elements, next)
		}
		to := s.node(s.end(b.To, fed))
		s.branches = append(s.branches, s.link(link{s.node(b.From), to, name, &branchLaw{elements}}))
	}
	return nil
}

// end is the place a branch really ends at: outlets fed by two branches have a near and a far end.
func (s *system) end(place string, fed map[string]int) string {
	if _, ok := s.index[place+nearEnd]; !ok {
		return place
	}
	fed[place]++
	if fed[place] == 1 {
		return place + nearEnd
	}
	return place + farEnd
}

func (s *system) addLeaks() error {
	for _, l := range s.network.Leaks {
		at := l.At
		if _, ok := s.index[at+nearEnd]; ok {
			at += nearEnd
		}
		v, ok := s.index[at]
		if !ok {
			if slices.ContainsFunc(s.network.Outlets, func(o Outlet) bool { return o.Name == l.At }) {
				continue // at a blocked outlet without a branch
			}
			return refuse("leak at "+quoted(l.At), "there is no such place in the network")
		}
		if !(l.Area >= 0) || math.IsInf(float64(l.Area), 0) {
			return refuse("leak at "+l.At, "its area must be a number of at least zero")
		}
		if l.Area > 0 {
			s.leaks = append(s.leaks, s.link(link{v, ambientNode, "leak at " + l.At, &mouthLaw{opening: float64(l.Area), leak: true}}))
		}
	}
	return nil
}

// prune takes away branches that lead nowhere, which have no flow, and refuses outlets and blowers that no
// path joins.
func (s *system) prune() error {
	degree := make([]int, len(s.names))
	for _, l := range s.links {
		degree[l.from]++
		degree[l.to]++
	}
	gone := make([]bool, len(s.links))
	for changed := true; changed; {
		changed = false
		for _, i := range s.branches {
			l := s.links[i]
			if gone[i] {
				continue
			}
			if degree[l.from] == 1 && l.from != ambientNode || degree[l.to] == 1 && l.to != ambientNode {
				gone[i], changed = true, true
				degree[l.from]--
				degree[l.to]--
			}
		}
	}
	s.compact(gone, degree)
	return s.connected()
}

// compact renumbers links and nodes after pruning.
func (s *system) compact(gone []bool, degree []int) {
	links := make([]int, len(s.links))
	kept := s.links[:0]
	for i, l := range s.links {
		links[i] = -1
		if !gone[i] {
			links[i] = len(kept)
			kept = append(kept, l)
		}
	}
	s.links = kept
	nodes := make([]int, len(s.names))
	var names []string
	index := map[string]int{}
	for v, name := range s.names {
		nodes[v] = -1
		if v == ambientNode || degree[v] > 0 {
			nodes[v] = len(names)
			index[name] = len(names)
			names = append(names, name)
		}
	}
	s.names, s.index = names, index
	for i := range s.links {
		s.links[i].from, s.links[i].to = nodes[s.links[i].from], nodes[s.links[i].to]
	}
	for _, list := range append([][]int{s.blowers, s.inlets, s.branches, s.leaks}, s.outlets...) {
		for i := range list {
			if list[i] >= 0 {
				list[i] = links[list[i]]
			}
		}
	}
	for i := range s.cells {
		s.cells[i].renumber(links)
	}
}

// connected refuses an outlet that no blower reaches and a blower that reaches no outlet.
func (s *system) connected() error {
	group := make([]int, len(s.names))
	for v := range group {
		group[v] = v
	}
	root := func(v int) int {
		for group[v] != v {
			group[v] = group[group[v]]
			v = group[v]
		}
		return v
	}
	for _, l := range s.links {
		if l.from != ambientNode && l.to != ambientNode {
			group[root(l.from)] = root(l.to)
		}
	}
	blown, used := map[int]bool{}, map[int]bool{}
	for _, i := range s.blowers {
		blown[root(s.links[i].to)] = true
	}
	for o, list := range s.outlets {
		if len(list) == 0 {
			continue
		}
		at := root(s.links[list[0]].from)
		if !blown[at] {
			return refuse("outlet "+s.network.Outlets[o].Name, "no branch joins it to a blower")
		}
		used[at] = true
	}
	first := map[int]int{}
	for b, i := range s.blowers {
		at := root(s.links[i].to)
		if !used[at] {
			return refuse(called(s.network.Blowers[b].Name), "no branch joins it to an outlet that is open")
		}
		if _, ok := first[at]; !ok {
			first[at] = b
		}
	}
	s.feeder = make([]int, len(s.names))
	for v := range s.feeder {
		s.feeder[v] = -1
		if b, ok := first[root(v)]; ok {
			s.feeder[v] = b
		}
	}
	return nil
}

func (s *system) analyse() error {
	fixed := make([]bool, len(s.names))
	fixed[ambientNode] = true
	links := make([]flownet.Link, len(s.links))
	for i, l := range s.links {
		links[i] = flownet.Link{From: l.from, To: l.to}
	}
	net, err := flownet.New(fixed, links)
	if err != nil {
		var lost *flownet.UnreachedError
		if errors.As(err, &lost) {
			return refuse("place "+quoted(s.names[lost.Node]), "it is joined to nothing that blows")
		}
		return err
	}
	s.net = net
	s.touching = make([][]int, len(s.names))
	for i, l := range s.links {
		if !slices.Contains(s.inlets, i) {
			s.touching[l.from] = append(s.touching[l.from], i)
			s.touching[l.to] = append(s.touching[l.to], i)
		}
	}
	return nil
}

// check refuses an outlet whose numbers cannot exist.
func (o *Outlet) check() error {
	switch {
	case !(o.Area > 0) || math.IsInf(float64(o.Area), 0):
		return fmt.Errorf("the area of its opening must be positive")
	case !(o.Cd > 0 && o.Cd <= 1.05):
		return fmt.Errorf("its discharge coefficient must lie between 0 and 1")
	case !(o.Cv >= 0 && o.Cv <= 1):
		return fmt.Errorf("its velocity coefficient must lie between 0 and 1")
	case !(o.PlenumBore >= 0) || math.IsInf(float64(o.PlenumBore), 0):
		return fmt.Errorf("the bore of its plenum must be a number of at least zero")
	case o.Feed != "" && o.Feed != "end" && o.Feed != "both ends" && o.Feed != "centre":
		return fmt.Errorf("unknown feed %q: it is one of end, both ends, centre", o.Feed)
	case o.PlenumBore > 0 && !(o.span() > 0):
		return fmt.Errorf("give the length of its plenum")
	}
	return nil
}

func (o *Outlet) span() float64 {
	if o.PlenumLength > 0 {
		return float64(o.PlenumLength)
	}
	return float64(o.Length)
}

// mouth is the law of an outlet with one feed.
func (o *Outlet) mouth() law {
	opening := float64(o.Cd) * float64(o.Area)
	if o.PlenumBore == 0 || o.Count == 1 && o.Kind != Slot {
		return &mouthLaw{opening: opening}
	}
	return &plenumLaw{plenum: o.plenum(), entry: o.feedEntry()}
}

func (o *Outlet) feedEntry() way {
	if o.FeedLoss > 0 {
		e := round("feed", float64(o.PlenumBore))
		e.k = float64(o.FeedLoss)
		return way{e}
	}
	return nil
}

func (o *Outlet) plenum() plenum {
	bore := float64(o.PlenumBore)
	c := plenum{
		area: math.Pi / 4 * bore * bore, bore: bore, length: o.span(), opening: float64(o.Cd) * float64(o.Area),
		rough: float64(o.Roughness), parts: 1, regain: 1, worse: 1,
	}
	if o.Kind == RoundRow && o.Count > 1 {
		c.nozzles = o.Count
	}
	if o.Feed == "both ends" || o.Feed == "centre" {
		c.parts, c.length, c.opening = 2, c.length/2, c.opening/2
		c.nozzles = (c.nozzles + 1) / 2
	}
	return c
}

// usualWall is the roughness of a plenum of drawn or welded steel.
const usualWall q.Length = 0.045e-3

// newInletWay lays out what the air passes before a blower.
func newInletWay(in *Inlet) (*inletLaw, error) {
	w := &inletLaw{filter: in.Filter}
	if in.Loss > 0 {
		if !(in.Bore > 0) {
			return nil, fmt.Errorf("give the bore of the entry")
		}
		e := round("entry", float64(in.Bore))
		e.k = float64(in.Loss)
		w.way = append(w.way, e)
	}
	bore := float64(in.Bore)
	for _, e := range in.Pieces {
		p, after, err := pieceOf(e, bore)
		if err != nil {
			return nil, err
		}
		bore = after
		w.way = append(w.way, p)
	}
	return w, nil
}
