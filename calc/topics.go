package calc

// Questions that several topics answer together.
const (
	askJet    = "what leaves the outlet and what reaches the wall"
	askReach  = "how far does it reach"
	askSweep  = "how long a knife, at what tilt"
	askStays  = "what stays"
	askDries  = "does it dry or sweat on the way"
	askStands = "will it stand"
	askPath   = "what does the air path cost"
	askRival  = "what else would it cost"
	askSound  = "how loud is it"
	askAir    = "what air is it"
)

// Topics returns the table of topics.
func Topics() []Topic {
	return []Topic{
		jetTopic(), reachTopic(), sweepTopic(),
		filmTopic(), dropTopic(), creviceTopic(),
		evaporationTopic(), condensationTopic(),
		stabilityTopic(),
		ductTopic(), plenumTopic(), compressionTopic(), motorTopic(),
		compressedAirTopic(), soundTopic(), airTopic(),
	}
}
