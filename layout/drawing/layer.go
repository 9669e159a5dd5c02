package drawing

// Layer is a set of roles that is shown or hidden together. Layers can be combined.
type Layer uint32

// The layers.
const (
	LayerVehicle Layer = 1 << iota
	LayerGrid
	LayerBays
	LayerKeepOuts
	LayerZones
	LayerRails
	LayerBoxes
	LayerModules
	LayerTerminals
	LayerStrips
	LayerGear
	LayerFixings
	LayerLinks
	LayerCables
	LayerHoses
	LayerBalance
	LayerLoads
	LayerFindings
	LayerDimensions
	LayerLabels
	LayerScale
)

// Layers lists all the layers in the order a list of switches shows them.
func Layers() []Layer {
	var out []Layer
	for l := LayerVehicle; l <= LayerScale; l <<= 1 {
		out = append(out, l)
	}
	return out
}

var layerNames = map[Layer]string{
	LayerVehicle:    "Vehicle",
	LayerGrid:       "Grid",
	LayerBays:       "Bays",
	LayerKeepOuts:   "Keep-outs",
	LayerZones:      "Zones",
	LayerRails:      "Frame rails",
	LayerBoxes:      "Boxes",
	LayerModules:    "Modules",
	LayerTerminals:  "Terminals and ports",
	LayerStrips:     "Free strips",
	LayerGear:       "Gear",
	LayerFixings:    "Feet and openings",
	LayerLinks:      "Links",
	LayerCables:     "Traction cables",
	LayerHoses:      "Coolant hoses",
	LayerBalance:    "Centre of gravity",
	LayerLoads:      "Wheel loads",
	LayerFindings:   "Findings",
	LayerDimensions: "Dimensions",
	LayerLabels:     "Names",
	LayerScale:      "Scale bar",
}

// String returns the layer's name as shown; for a combination, the empty text.
func (l Layer) String() string { return layerNames[l] }

var roleLayers = map[Role]Layer{
	RoleBody: LayerVehicle, RoleWheel: LayerVehicle, RoleAxle: LayerVehicle, RoleGround: LayerVehicle,
	RoleClearance: LayerVehicle, RoleCentre: LayerVehicle, RoleFront: LayerVehicle, RoleGrid: LayerGrid, RoleBay: LayerBays,
	RoleKeepOut: LayerKeepOuts, RoleZone: LayerZones, RoleRail: LayerRails, RoleBox: LayerBoxes,
	RoleLiner: LayerBoxes, RoleBarrier: LayerBoxes, RoleModule: LayerModules, RolePositive: LayerTerminals,
	RoleNegative: LayerTerminals, RolePort: LayerTerminals, RoleStrip: LayerStrips, RoleGear: LayerGear,
	RoleFoot: LayerFixings, RoleOpening: LayerFixings, RoleLink: LayerLinks, RoleCable: LayerCables,
	RoleHose: LayerHoses, RoleCG: LayerBalance, RoleCGDonor: LayerBalance, RoleLoad: LayerLoads,
	RoleBreach: LayerFindings, RoleWarning: LayerFindings, RoleDimension: LayerDimensions,
	RoleLabel: LayerLabels, RoleLeader: LayerLabels, RoleScaleBar: LayerScale,
}

// Layer returns the layer that a role belongs to; 0 for roles that are always shown.
func (r Role) Layer() Layer { return roleLayers[r] }
