package drawing

// Role says what a thing in a drawing is. Painters map roles to colours, widths and layers; no role is told
// apart by colour alone.
type Role string

// The roles.
const (
	RoleBody      Role = "vehicle outline"
	RoleWheel     Role = "wheel"
	RoleAxle      Role = "axle line"
	RoleGround    Role = "ground line"
	RoleClearance Role = "ground clearance line"
	RoleCentre    Role = "centre plane"
	RoleGrid      Role = "grid"
	RoleBay       Role = "bay"
	RoleKeepOut   Role = "keep-out"
	RoleZone      Role = "zone"
	RoleRail      Role = "frame rail"
	RoleBox       Role = "box"
	RoleLiner     Role = "box interior"
	RoleModule    Role = "module"
	RolePositive  Role = "positive terminal"
	RoleNegative  Role = "negative terminal"
	RoleStrip     Role = "free strip"
	RoleGear      Role = "gear"
	RoleFoot      Role = "foot"
	RoleOpening   Role = "opening"
	RoleLink      Role = "link"
	RoleCable     Role = "traction cable"
	RoleHose      Role = "coolant hose"
	RoleCG        Role = "centre of gravity"
	RoleCGDonor   Role = "donor's centre of gravity"
	RoleLoad      Role = "wheel load"
	RoleBreach    Role = "breach"
	RoleWarning   Role = "warning"
	RoleDimension Role = "dimension"
	RoleLabel     Role = "label"
	RoleLeader    Role = "leader"
	RoleTitle     Role = "title"
	RoleScaleBar  Role = "scale bar"
	RoleChartAxis Role = "chart axis"
	RoleChartMark Role = "chart mark"
	RoleChartBest Role = "chart best"
	RoleWindow    Role = "voltage window"
	RoleHot       Role = "hot"
	RoleBare      Role = "bare conductor"
	RoleCovered   Role = "covered conductor"
	RoleFront     Role = "front of the vehicle"
	RolePort      Role = "coolant port"
	RoleBarrier   Role = "barrier"
	RoleHandle    Role = "selection handle"
	RoleCut       Role = "cut by the section"
	RoleSheet     Role = "sheet cut" // the outline of a flat pattern
	RoleBendUp    Role = "bend up"   // towards the eye
	RoleBendDown  Role = "bend down" // away from the eye
	RoleHole      Role = "hole"
	RoleShade     Role = "shaded face" // faces of the axonometric that look away from the light
)
