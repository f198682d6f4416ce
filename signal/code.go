package signal

// code is one command or reply: its byte, its short name in the standard, what it says in plain words, how long its
// data
// is, and how to read it.
type code struct {
	Byte    byte
	Name    string
	What    string
	least   int // bytes of data
	step    int // 0: exactly least; 1 and more: least and any number of steps
	details func(d []byte, r *detailer)
}

// fits says whether data of n bytes belongs to the code.
func (c code) fits(n int) bool {
	if c.step == 0 {
		return n == c.least
	}
	return n >= c.least && (n-c.least)%c.step == 0
}

// Codes of which the analysis of a capture knows more.
const (
	cmdPoll   = 0x60
	cmdComset = 0x6E
	rplAck    = 0x40
	rplNak    = 0x41
	rplID     = 0x45
	rplLocal  = 0x48
	rplRaw    = 0x50
	rplCrypt  = 0x76
	rplBusy   = 0x79
)

// commands lists what a controller sends, by the numbering of SIA OSDP 2.2. The lengths and the order of the fields are
// from memory, but for those of the examples of annex E and of the ID report, the capabilities and the card data.
func commands() []code {
	return []code{
		{cmdPoll, "POLL", "anything new?", 0, 0, nil},
		{0x61, "ID", "who are you?", 1, 0, nil},
		{0x62, "CAP", "what can you do?", 1, 0, nil},
		{0x64, "LSTAT", "tamper and power?", 0, 0, nil},
		{0x65, "ISTAT", "state of the inputs?", 0, 0, nil},
		{0x66, "OSTAT", "state of the outputs?", 0, 0, nil},
		{0x67, "RSTAT", "state of the reader?", 0, 0, nil},
		{0x68, "OUT", "set outputs", 4, 4, outputDetails},
		{0x69, "LED", "set lamps", 14, 14, lampDetails},
		{0x6A, "BUZ", "set the sounder", 5, 0, sounderDetails},
		{0x6B, "TEXT", "show a text", 6, 1, textDetails},
		{0x6C, "RMODE", "set the reader's mode", 2, 0, nil},
		{0x6D, "TDSET", "set date and time", 0, 1, nil},
		{cmdComset, "COMSET", "take a new address and speed", 5, 0, comDetails},
		{0x73, "BIOREAD", "read a biometric", 0, 1, nil},
		{0x74, "BIOMATCH", "match a biometric", 0, 1, nil},
		{0x75, "KEYSET", "take a new key", 2, 1, keyDetails},
		{0x76, "CHLNG", "start of the secure channel", 8, 0, nil},
		{0x77, "SCRYPT", "proof of the controller", 16, 0, nil},
		{0x7B, "ACURXSIZE", "longest frame the controller takes", 2, 0, sizeDetails},
		{0x7C, "FILETRANSFER", "part of a file", 0, 1, nil},
		{0x80, "MFG", "command of the maker", 3, 1, makerDetails},
		{0xA1, "XWR", "data for a smart card", 0, 1, nil},
		{0xA2, "ABORT", "stop what you are doing", 0, 0, nil},
		{0xA3, "PIVDATA", "fetch data of a smart card", 0, 1, nil},
		{0xA4, "GENAUTH", "authenticate a smart card", 0, 1, nil},
		{0xA5, "CRAUTH", "challenge a smart card", 0, 1, nil},
		{0xA7, "KEEPACTIVE", "keep the smart card on", 2, 0, nil},
	}
}

// replies lists what a unit sends.
func replies() []code {
	return []code{
		{rplAck, "ACK", "understood, nothing new", 0, 0, nil},
		{rplNak, "NAK", "refused", 1, 1, nakDetails},
		{rplID, "PDID", "who I am", 12, 0, idDetails},
		{0x46, "PDCAP", "what I can do", 0, 3, capDetails},
		{rplLocal, "LSTATR", "tamper and power", 2, 0, localDetails},
		{0x49, "ISTATR", "state of the inputs", 0, 1, stateDetails("input", "at rest", "active")},
		{0x4A, "OSTATR", "state of the outputs", 0, 1, stateDetails("output", "off", "on")},
		{0x4B, "RSTATR", "state of the reader", 0, 1, stateDetails("reader", "normal", "not connected", "tamper")},
		{rplRaw, "RAW", "card read", 4, 1, rawDetails},
		{0x51, "FMT", "card read, as text", 3, 1, nil},
		{0x53, "KEYPAD", "keys pressed", 2, 1, padDetails},
		{0x54, "COM", "address and speed from now on", 5, 0, comDetails},
		{0x57, "BIOREADR", "biometric read", 0, 1, nil},
		{0x58, "BIOMATCHR", "biometric matched", 0, 1, nil},
		{rplCrypt, "CCRYPT", "identity and proof of the unit", 32, 0, cryptDetails},
		{0x78, "RMAC_I", "the secure channel stands", 16, 0, nil},
		{rplBusy, "BUSY", "busy, ask again", 0, 0, nil},
		{0x7A, "FTSTAT", "state of the file transfer", 0, 1, nil},
		{0x80, "PIVDATAR", "data of a smart card", 0, 1, nil},
		{0x81, "GENAUTHR", "answer of a smart card", 0, 1, nil},
		{0x82, "CRAUTHR", "answer of a smart card to a challenge", 0, 1, nil},
		{0x83, "MFGSTATR", "state, as the maker defines it", 0, 1, nil},
		{0x84, "MFGERRR", "error, as the maker defines it", 0, 1, nil},
		{0x90, "MFGREP", "reply of the maker", 3, 1, makerDetails},
		{0xB1, "XRD", "data of a smart card", 0, 1, nil},
	}
}

// nakReasons are the reasons a unit gives for refusing, by the numbering of SIA OSDP 2.2: what it means, and what to
// do.
func nakReasons() []struct{ what, check string } {
	return []struct{ what, check string }{
		{"no reason given", "Look at the command before it."},
		{"wrong check value", "The unit received the command damaged: noise, termination, bias, length of the line."},
		{"wrong length of the command", "The unit knows another edition of the protocol: compare versions of unit and " +
			"controller."},
		{"unknown command", "The unit cannot do it: ask for less in the controller, or see its list of capabilities."},
		{"wrong sequence number", "Harmless at a restart. If it goes on: two controllers on the line, or two units at " +
			"one address."},
		{"the secure channel is not supported", "Switch the secure channel off for this unit, or fit a unit that has it."},
		{"the secure channel is required", "Set the same key in unit and controller, or put the unit into its mode for " +
			"installing."},
		{"type of biometric not supported", "Ask for another type in the controller."},
		{"format of biometric not supported", "Ask for another format in the controller."},
		{"the record cannot be carried out", "Compare the command's record with what the unit has."},
	}
}
