package crew

// The sentences on every sheet are common practice of the trade [C]. None of them states a limit, a
// rate or a rule of any jurisdiction.
const (
	// StopWind and StopWater say when to stop.
	StopWind  = "Stop when wind, rain or temperature passes a limit of the label, the permit or the programme."
	StopWater = "Stop and leave the channel when water rises, turns brown or carries debris."
	// Clean is about boots and machines.
	Clean = "Before you come and before you leave: brush and wash boots, clothes, tools, trailers and machines until no mud, seed or piece of cane is on them. Look into treads, tracks and buckets."
	// Dry is about cane that was cut or pulled.
	Dry = "Carry every piece of cane and root out of reach of floods and dry it on firm ground away from the water: what floats off takes root downstream."
	// Stay is about working only where it was asked for and permitted.
	Stay = "Do not work outside the stand, nor where no permission is known."
	// Place is about how to report a position.
	Place = "Say where you are by the coordinates of this sheet."
)
