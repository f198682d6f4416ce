package site

var magnetOnBoard = arrangement{
	title: "Plant room", volts: "24", feed: "4x1.5",
	fitted: `escape: out
fire-rated: no
entry: reader-pulse-wide
locks: [{model: magnet-24, feed: "{board}", handle: none}]
exit: [exit-button]
contacts: [contact-surface]
releases: [release-2]
watch: relay-24
supervision: double
`,
}

var handleLockOnBus = arrangement{
	title: "Records room", volts: "24", feed: "2x1.0",
	fitted: `escape: out
fire-rated: yes
entry: {model: reader-485, address: 1, speed: 9600 baud}
exit-reader: {model: reader-485, address: 2, speed: 9600 baud}
locks: [{model: handle-lock-24, handle: frees}]
contacts: [contact-surface]
loop: door-loop
supervision: double
`,
	runs: []string{"out, cable: 4x2x0.22s, length: 9 m", "in, cable: 4x2x0.22s, length: 9 m"},
}

var strikeSecure24 = arrangement{
	title: "Office", volts: "24", feed: "2x1.0",
	fitted: `escape: out
fire-rated: no
entry: reader-pulse-wide
locks: [{model: strike-24-secure, handle: frees}]
exit: [exit-button]
contacts: [contact-surface]
sounder: sounder-24
supervision: single
`,
}

var bothWaysOnBoard = arrangement{
	title: "Hall", volts: "24", feed: "4x1.5",
	fitted: `escape: both
fire-rated: no
entry: reader-pulse-wide
exit-reader: reader-pulse-wide
locks: [{model: magnet-24-bare, feed: "{board}", handle: none}]
contacts: [contact-surface]
releases: [release-2, {model: release-2, side: unsecured}]
watch: relay-24
`,
}

var strikeSafe24 = arrangement{
	title: "Lobby", volts: "24", feed: "2x1.5",
	fitted: `escape: out
fire-rated: no
entry: {model: reader-485, speed: 9600 baud}
locks: [{model: strike-24-safe, handle: none}]
exit: [exit-button]
contacts: [contact-surface]
releases: [release-2]
fire: fire-interface
watch: relay-24
supervision: single
`,
}

var magnetWithSensor24 = arrangement{
	title: "Laboratory", volts: "24", feed: "2x1.5",
	fitted: `escape: out
fire-rated: no
entry: reader-pulse-wide
locks: [{model: magnet-24, handle: none, on-battery: let-go}]
exit: [exit-sensor-24]
contacts: [contact-surface]
releases: [release-2]
fire: fire-interface
watch: relay-24
supervision: double
`,
}

var handleLockSafe24 = arrangement{
	title: "Workshop", volts: "24", feed: "2x1.0",
	fitted: `escape: out
fire-rated: no
entry: reader-pulse-wide
locks: [{model: handle-lock-24-safe, handle: frees}]
contacts: [contact-surface]
loop: door-loop
supervision: double
`,
}

var store24 = arrangement{
	title: "Store", volts: "24", feed: "2x1.0",
	fitted: `escape: none
fire-rated: no
entry: reader-pulse-wide
locks: [{model: strike-24-secure, handle: frees}]
exit: [exit-button]
contacts: [contact-surface]
`,
}

var strikeSafeWithInside24 = arrangement{
	title: "Corridor", volts: "24", feed: "2x1.5",
	fitted: `escape: out
fire-rated: no
entry: reader-pulse-wide
exit-reader: reader-pulse-wide
locks: [{model: strike-24-safe, handle: none}]
contacts: [contact-surface]
releases: [release-2]
fire: fire-interface
watch: relay-24
`,
}

var magnet12 = arrangement{
	title: "Entrance", volts: "12", feed: "2x4",
	fitted: `escape: out
fire-rated: no
entry: reader-pulse
locks: [{model: magnet-12, handle: none, on-battery: let-go}]
exit: [exit-button]
contacts: [contact-surface]
releases: [release-2]
fire: fire-interface
watch: relay-12
supervision: double
`,
}

var strikeSecure12 = arrangement{
	title: "Staff door", volts: "12", feed: "2x4",
	fitted: `escape: out
fire-rated: no
entry: reader-pulse
locks: [{model: strike-12-secure, handle: frees}]
exit: [exit-button]
contacts: [contact-surface]
sounder: sounder-12
`,
}

var handleLockSerial12 = arrangement{
	title: "Cabin", volts: "12", feed: "2x4",
	fitted: `escape: out
fire-rated: no
entry: {model: reader-serial, speed: 9600 baud}
locks: [{model: handle-lock-12, handle: frees}]
contacts: [contact-surface]
loop: door-loop
supervision: double
`,
}

var magnetWithSensor12 = arrangement{
	title: "Laboratory", volts: "12", feed: "2x4",
	fitted: `escape: out
fire-rated: no
entry: reader-pulse
locks: [{model: magnet-12-bare, handle: none, on-battery: let-go}]
exit: [exit-sensor-12]
contacts: [contact-surface]
releases: [release-2]
fire: fire-interface
watch: relay-12
supervision: single
`,
}

var strikeSafe12 = arrangement{
	title: "Lobby", volts: "12", feed: "2x4",
	fitted: `escape: out
fire-rated: no
entry: {model: reader-485, speed: 9600 baud}
locks: [{model: strike-12-safe, handle: none, on-battery: let-go}]
exit: [exit-button]
contacts: [contact-surface]
releases: [release-2]
fire: fire-interface
watch: relay-12
supervision: double
`,
}

var store12 = arrangement{
	title: "Store", volts: "12", feed: "2x4",
	fitted: `escape: none
fire-rated: no
entry: reader-pulse
locks: [{model: strike-12-secure, handle: frees}]
exit: [exit-button]
contacts: [contact-surface]
supervision: single
`,
}

var handleLockSafe12 = arrangement{
	title: "Workshop", volts: "12", feed: "2x4",
	fitted: `escape: out
fire-rated: no
entry: reader-pulse
locks: [{model: handle-lock-12-safe, handle: frees, on-battery: let-go}]
contacts: [contact-surface]
loop: door-loop
supervision: single
`,
}

var twoLeaves12 = arrangement{
	title: "Double door", volts: "12", feed: "2x4",
	fitted: `escape: out
fire-rated: no
leaves: 2
entry: reader-pulse
locks:
  - {model: strike-12-safe, leaf: 1, handle: none, on-battery: let-go}
  - {model: strike-12-safe, leaf: 2, handle: none, on-battery: let-go}
exit: [exit-button]
contacts: [{model: contact-surface, leaf: 1}, {model: contact-surface, leaf: 2}]
releases: [release-2]
fire: fire-interface
watch: relay-12
supervision: double
`,
}
