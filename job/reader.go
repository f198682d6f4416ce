package job

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"doorwright/device"
	"doorwright/unit"
)

// dataLine is what the two ends of a reader's line have in common.
type dataLine struct {
	reader, controller device.PortType
	does               string // completes "the reader ..."
	means              []string
}

// dataLines are the ways a reader can talk to its controller.
func dataLines() []dataLine {
	return []dataLine{
		{device.PulseOut, device.PulseIn, "sends pulses", []string{"feed", "height", "beside"}},
		{device.SerialPort, device.SerialPort, "talks over a serial port", []string{"feed", "speed", "height", "beside"}},
		{device.Bus, device.Bus, "talks over a bus", []string{"feed", "speed", "address", "terminator", "height", "beside"}},
	}
}

func dataLineOf(m *device.Model) (dataLine, bool) {
	for _, l := range dataLines() {
		if has(m, l.reader) {
			return l, true
		}
	}
	return dataLine{}, false
}

// highestAddress of a bus device: 7F hex is the broadcast (IEC 60839-11-5).
const highestAddress = 0x7E

func (r *resolver) reader(d *Door, role Role, path string, w FittedDoc, usual *Place) *Reader {
	x := &Reader{
		Fitted: r.fit(role, d.ID+"."+string(role), path, w, usual),
		Feed:   r.feedOr(under(path, "feed"), w.Feed), Ends: w.Ends,
	}
	if x.Model == nil {
		return x
	}
	line, _ := dataLineOf(x.Model)
	r.meaningless(path, w, role, line.means...)
	x.Settings.Terminator = w.Ends == "on"
	if d.Controller == nil || d.Controller.Model == nil || d.Channel == 0 {
		return x
	}
	side := "entry"
	if role == RoleExitReader {
		side = "exit"
	}
	name, ok := d.Controller.Model.FindPort(line.controller, "", d.Channel, side)
	if !ok {
		r.problem(under(path, "model"), quote(x.ModelID), fmt.Sprintf(
			"is a reader that %s, but %s (%s) has no such port for the %s reader of its door %d; "+
				"choose another reader or controller",
			line.does, d.Controller.ID, d.Controller.ModelID, side, d.Channel))
		return x
	}
	if line.reader != device.PulseOut {
		key := linePort{d.Controller, name}
		if r.lines[key] == nil {
			r.lineOrder = append(r.lineOrder, key)
		}
		r.lines[key] = append(r.lines[key], lineReader{x, path, w.Speed, w.Address, line.reader == device.Bus})
	}
	return x
}

// linePort is a serial or bus port of a controller.
type linePort struct {
	controller *Controller
	port       string
}

// lineReader is a reader on a line, with what is stated of it.
type lineReader struct {
	*Reader
	path    string
	speed   unit.Baud
	address *int
	bus     bool
}

// dataLines settles speed and addresses once it is known which readers share a line.
func (r *resolver) dataLines() {
	for _, key := range r.lineOrder {
		r.speeds(key, r.lines[key])
		r.addresses(r.lines[key])
	}
}

// speeds gives every reader of a line the speed that is stated for one of them, else the first that both ends know.
func (r *resolver) speeds(key linePort, readers []lineReader) {
	c := key.controller
	var settled unit.Baud
	for _, x := range readers {
		if path := under(x.path, "speed"); x.speed != 0 || r.stated(path) {
			settled = r.statedSpeed(x, path, c, key.port, settled)
		}
	}
	for _, x := range readers {
		path := under(x.path, "speed")
		if x.speed != 0 || r.stated(path) {
			continue
		}
		shared := sharedSpeeds(x.Model, c.Model.Port(key.port))
		switch {
		case len(shared) == 0:
			r.problem(path, "", fmt.Sprintf("%s (%s) and %s (%s) have no speed in common; choose another reader or controller",
				x.ID, x.ModelID, c.ID, c.ModelID))
			continue
		case settled == 0:
			settled = shared[0]
		case !slices.Contains(shared, settled):
			r.problem(path, "", fmt.Sprintf("the line runs at %v, which %s (%s) does not know", settled, x.ID, x.ModelID))
		}
		x.Settings.Speed = settled
		r.assume(path, settled.String())
	}
	if c.Settings.Speed == 0 {
		c.Settings.Speed = settled
	}
}

// statedSpeed checks the speed stated for one reader and gives that of the line.
func (r *resolver) statedSpeed(x lineReader, path string, c *Controller, port string, settled unit.Baud) unit.Baud {
	shared := sharedSpeeds(x.Model, c.Model.Port(port))
	switch {
	case !slices.Contains(shared, x.speed):
		r.problem(path, x.speed.String(), fmt.Sprintf("is not a speed that both %s and %s know; choose one of: %s",
			x.ModelID, c.ModelID, speedList(shared)))
		return settled
	case settled != 0 && settled != x.speed:
		r.problem(path, x.speed.String(), fmt.Sprintf("is not the speed of the other readers on the same line, %v", settled))
		return settled
	}
	x.Settings.Speed = x.speed
	return x.speed
}

// sharedSpeeds are the speeds that a reader and a port of its controller both know.
func sharedSpeeds(reader *device.Model, port *device.Port) []unit.Baud {
	var shared []unit.Baud
	for _, is := range []device.PortType{device.SerialPort, device.Bus} {
		for _, name := range reader.PortsOf(is) {
			for _, b := range reader.Port(name).Speeds {
				if port.Is == is && slices.Contains(port.Speeds, b) {
					shared = append(shared, b)
				}
			}
		}
	}
	return shared
}

func speedList(speeds []unit.Baud) string {
	words := make([]string, len(speeds))
	for i, b := range speeds {
		words[i] = b.String()
	}
	return strings.Join(words, ", ")
}

// addresses gives every reader on a bus its address: as stated, else the next free one.
func (r *resolver) addresses(readers []lineReader) {
	taken := map[int]*Reader{}
	for _, x := range readers {
		if !x.bus || x.address == nil {
			continue
		}
		path, found := under(x.path, "address"), quote(strconv.Itoa(*x.address))
		first := taken[*x.address]
		switch {
		case *x.address < 0 || *x.address > highestAddress:
			r.problem(path, found, fmt.Sprintf("is not possible; addresses are 0 to %d", highestAddress))
		case first != nil:
			r.problem(path, found, "is the address of "+first.ID+" on the same line; give each its own")
		}
		taken[*x.address] = x.Reader
		x.Settings.Address = *x.address
	}
	next := 0
	for _, x := range readers {
		if !x.bus || x.address != nil {
			continue
		}
		for taken[next] != nil {
			next++
		}
		taken[next] = x.Reader
		x.Settings.Address = next
		r.assume(under(x.path, "address"), strconv.Itoa(next))
		if next > highestAddress {
			r.problem(under(x.path, "address"), "", "no address is left on this line; use another controller")
		}
	}
}
