package device

import "doorwright/unit"

// Figures that stand in for what a data sheet leaves out, and what the standards of the data lines fix.
const (
	// contactOhms is a closed contact of a relay, button or switch, with its springs. New ones measure 20 to 100 mohm
	// (common practice, no source).
	contactOhms unit.Ohm = 0.05
	// outputOhms is the path of a power output: a resettable fuse or a transistor switch and its shunt (common practice,
	// no source).
	outputOhms unit.Ohm = 0.1
	// sourceOhms is the static regulation of a switched-mode supply, below 1 % from no load to full load (common
	// practice, no source).
	sourceOhms unit.Ohm = 0.02
	// transferOhms is the battery's path inside a supply: disconnecting transistor, fuse and leads (common practice, no
	// source).
	transferOhms unit.Ohm = 0.03
	// planeOhms joins the 0 V terminals of one unit: a copper area and two screws (common practice, no source).
	planeOhms unit.Ohm = 0.01
	// barOhms is the way from one clamp of a junction terminal to the next. IEC 60947-7-1 allows a new terminal block a
	// drop of 3.2 mV at a tenth of its rated current, about 1 mohm for small sizes (from memory).
	barOhms unit.Ohm = 0.001
	// loopOhms is one way of a door loop: half a metre of fine stranded wire (common practice, no source).
	loopOhms unit.Ohm = 0.05
	// earthOhms is the bond of a unit's earth terminal through its enclosure. A protective conductor test asks for no
	// more than 0.1 ohm between two points of an enclosure (from memory: IEC 61439-1, 10.5.2).
	earthOhms unit.Ohm = 0.1
	// fuseDrop is the voltage over a fuse link at its rated current, cold; 5 mm x 20 mm links of 1 A to 5 A show 0.1 V
	// to 0.2 V (from memory of IEC 60127-2, which sets higher maximum values).
	fuseDrop unit.Volt = 0.15

	// cutOffShare is where a load stops when its data sheet does not say: this share of the low end of its window
	// (common practice, no source). It starts again at the low end of the window, where the data sheet promises that it
	// works.
	cutOffShare = 0.9
	// reconnectShare is how far above its disconnection voltage a supply takes a battery for present (common practice,
	// no source). The disconnection itself latches until mains returns.
	reconnectShare = 1.02

	// openCollectorOhms is a reader's data transistor while it is on: well below 1 V at 5 mA (common practice, no
	// source).
	openCollectorOhms unit.Ohm = 20
	// dataLeakOhms is a reader's data output while it is off (common practice, no source).
	dataLeakOhms unit.Ohm = 1e6

	// serialDriver and serialDriverOhms are a TIA-232-F driver: 5 V to 15 V into 3 to 7 kohm; 6 V open behind 300 ohm
	// gives 5.66 V into 5 kohm. 300 ohm is also the least that a driver without power may show (from memory).
	serialDriver     unit.Volt = 6
	serialDriverOhms unit.Ohm  = 300
	// serialReceiverOhms is the middle of the 3 to 7 kohm of a TIA-232-F receiver.
	serialReceiverOhms unit.Ohm = 5000

	// busDriver and busDriverOhms are the weakest TIA-485-A driver: 1.5 V into 54 ohm, half of it lost inside.
	busDriver     unit.Volt = 3
	busDriverOhms unit.Ohm  = 54
	// busReceiverOhms is a TIA-485-A receiver of one unit load, each line to common.
	busReceiverOhms unit.Ohm = 12000
	// busTerminatorOhms is the characteristic impedance of the usual data cable (TIA-485-A, common practice).
	busTerminatorOhms unit.Ohm = 120
	// busBias and busBiasOhms hold an idle pair with two terminators above 200 mV: at 5 V and 60 ohm at most 720 ohm for
	// each of the two resistors; the preferred value 560 ohm leaves room for receivers (derived by Ohm's law).
	busBias     unit.Volt = 5
	busBiasOhms unit.Ohm  = 560
)

// Levels of the data lines at the receiving end.
const (
	// pulseLow and pulseHigh are the levels of pulse readers (SIA AC-01, from memory).
	pulseLow  unit.Volt = 1
	pulseHigh unit.Volt = 4
	// serialSeen is the threshold of a TIA-232-F receiver, either sign.
	serialSeen unit.Volt = 3
	// busSeen is the threshold of a TIA-485-A receiver, either sign.
	busSeen unit.Volt = 0.2
)

// Bounds of an input's voltage and of the undecided gap around its thresholds, as shares of its reference.
const (
	// foreignShare: this far beyond the reference or below zero, a voltage comes from somewhere else and the data sheet
	// promises nothing. It leaves room for the tolerance of a 5 V reference and for a drop on the common (common
	// practice, no source).
	foreignShare = 0.1
	// hysteresisShare is the half width of the gap at each threshold of a supervised input: noise, conversion error and
	// hysteresis (common practice, no source).
	hysteresisShare = 0.01
)
