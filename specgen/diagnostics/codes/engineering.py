"""SG3xx: engineering."""

from typing import Final

from specgen.diagnostics.codes.weights import decided, error, note, warning

# Fit of a part in its position
WRONG_KIND: Final = error("SG301", "part of another kind than the position takes")
"""A position takes parts of certain kinds, and this part is of another. It could not be fitted
there by anybody who holds the system in their hands."""
WRONG_SOCKET: Final = error("SG302", "part for another socket")
"""The processor is made for another socket than this position has. It does not go in, whatever
else about it may suit."""
TOO_TALL: Final = error("SG303", "part too tall for the position")
"""The part is taller than the position leaves room for: a full-height card in a low-profile
slot, or a module under a lid that is too near. The system could not be closed."""
TOO_LONG: Final = error("SG304", "part too long for the position")
"""The part is longer than the position leaves room for. It would meet a fan, a drive cage or the
board before it is seated."""
WRONG_CONNECTOR: Final = error("SG305", "connector or form that does not go in")
"""The part's edge or form does not go into the position: a wide card into a narrower connector
that is closed at its end, for instance. Electrical width is another matter; a card may well run
on fewer lanes than it has."""
WRONG_INTERFACE: Final = error("SG306", "part with another interface")
"""The part speaks through another interface than the position offers. It might go in, but it
would not be seen by the system."""
WRONG_SWAP: Final = error("SG307", "part of another swap type")
"""The part and the position differ in how they may be exchanged. A reader who trusts the sheet
might pull a part from a running system that must be switched off first."""
WRONG_KEY: Final = error("SG308", "keying or mounting pattern that does not match")
"""The notch, key or pattern of holes on the part differs from the one at the position. They
exist to keep unlike parts apart, so it must not be forced."""
NOT_LISTED: Final = error("SG309", "part the platform does not list")
"""The platform lists the parts that were tried in it, and this one is not among them. A sheet
would promise something that nobody has tested."""
TOO_WIDE: Final = error("SG310", "part wider than the slots beside it allow")
"""The part covers more slots than its own, and none beside this one is declared as its
neighbour. It would hit the wall of the chassis or a card that stands there."""

# Positions, needs, links
UNUSABLE_POSITION: Final = error("SG311", "part in a position that is unusable")
"""The position belongs to a part that is not there: a second processor, a riser or a backplane.
Without its owner nothing in the position has power or a link."""
BLOCKED_POSITION: Final = error("SG312", "part in a position that another part blocks")
"""Another part takes the room or the connector of this position. Both cannot be fitted at the
same time."""
NEED_UNMET: Final = error("SG313", "need that nothing in the build meets")
"""The part declares that it needs something else in the system: a position filled, a resource
or a condition. Nothing in this build provides it, so the part would not work."""
RESOURCE_OVERCOMMITTED: Final = error("SG314", "more taken of a resource than there is")
"""Parts together take more of a resource than the system has, such as ports of a controller or
power connectors. At least one of them would have to stay unconnected."""
LANES_OVERCOMMITTED: Final = error("SG315", "more lanes taken than there are")
"""The links of an owner need more lanes than it has. Some of the parts would stay without a
link, or with less than the sheet says."""
SPLIT_IMPOSSIBLE: Final = error("SG316", "port that cannot split this way")
"""A root port can be divided only in certain ways, and the widths asked for are not one of them.
Some of the parts behind it would not be found when the system starts."""
LINK_NARROWED: Final = note("SG317", "link narrower or slower than the part")
"""A link is as wide and as fast as the least along its path. The part works, but with less
bandwidth than its own data promise, and a reader should know it."""
POSITION_MUST_BE_FILLED: Final = error("SG318", "empty position that must be filled")
"""The system must not run with this position empty, since air, power or order depends on it. A
blank or a part belongs there."""
PROTOCOL_MISMATCH: Final = error("SG319", "drive the controller cannot speak to")
"""The drive and the controller it is wired to do not share a protocol. The drive would be
powered and stay invisible."""
TOO_LARGE: Final = error("SG320", "part larger than its place")
"""By its measures the part does not go into the room that there is for it, whatever its form
says. Parts of one form may differ in thickness and depth; that is why both are declared."""

# Memory
MIXED_MEMORY: Final = error("SG321", "memory modules that must not mix")
"""Modules of these types cannot work beside each other, because their type, rank or width
differs. The system would not start, or would leave some of them out."""
POPULATION_ORDER: Final = error("SG322", "memory not fitted in its order")
"""Slots are filled in the order printed in the platform's description, beginning with the ones
named first. In another order the system may not start, or may not find every module."""
UNBALANCED_MEMORY: Final = warning("SG323", "memory channels filled unevenly")
"""Channels carry different numbers or sizes of modules. It works, but some addresses are then
served by fewer channels and are slower, so somebody should decide whether that is meant."""
MEMORY_DERATED: Final = note("SG324", "memory slower than its modules")
"""All modules run at one speed, the least that modules, their number a channel and the processor
allow. The sheet states that lower speed, not the one printed on the module."""
MEMORY_MISSING: Final = error("SG325", "processor without memory")
"""A processor does not start without a memory module of its own. Where slots belong to it and
none is filled, the server does not run, whatever else it holds."""
MEMORY_CHANNELS: Final = error("SG326", "memory on more channels than the processor has")
"""The slots stand on more memory channels than the processor has. Modules on the others are
never seen, and the sheet would count them."""

# Processors, cooling, surroundings
SOCKET_TDP: Final = error("SG331", "processor above the power of its socket")
"""The processor gives off more heat, or draws more power, than this socket is designed for. The
board could not supply it for long, and no cooler makes up for that."""
HEATSINK_TDP: Final = error("SG332", "processor above the power of its heat sink")
"""The heat sink is rated for less power than the processor gives off. The processor would slow
itself down under load, and values for its speed would not hold."""
FANS_MISSING: Final = error("SG333", "too few fans")
"""With these processors and parts the system needs more fans than the build has. It would run
too hot, or refuse to start."""
MIXED_PROCESSORS: Final = error("SG334", "processors that must not mix")
"""Processors in one system must be alike in the way the platform demands. Unlike ones do not
start together."""
INLET_TOO_WARM: Final = error("SG335", "inlet air warmer than the build allows")
"""The inlet temperature of the build is above what its parts, fans and altitude allow. Parts
would age faster, slow down or switch off."""
UNCOOLED: Final = error("SG336", "processor that nothing cools")
"""What sits in a socket is sold without a heat sink, and the position that would cool it is
empty. It switches off within seconds."""

# Storage
CACHE_WITHOUT_ENERGY: Final = error("SG341", "write cache without a cache protection module")
"""A controller that holds writes in a cache loses them when the power fails, unless a cache
protection module carries it long enough to save them. Without it the cache must not be promised."""
RAID_UNSUPPORTED: Final = error("SG342", "RAID level the controller does not offer")
"""The controller that the drives are wired to does not offer this RAID level. The volume could
not be set up, so its capacity and safety must not be stated."""
VOLUME_TOO_SMALL: Final = error("SG343", "volume with too few drives")
"""Each RAID level needs a least number of drives, and some need them in equal groups. With this
number the volume cannot exist."""
VOLUME_MEMBER: Final = error("SG344", "volume with a member it cannot have")
"""The volume names a position that holds no drive, or one that already belongs to a volume. Its
capacity would count a drive that is not there for it."""
VOLUME_MIXED: Final = warning("SG345", "volume of unequal drives")
"""Every member of a volume counts only as much as the smallest and slowest. The rest of the
larger drives is paid for and lies idle, so somebody should decide whether that is meant."""
VOLUME_SPLIT: Final = error("SG346", "volume spread over several controllers")
"""The members of the volume are wired to different controllers. A controller can join only
drives of its own, so this volume cannot be set up."""
SPARE_UNFIT: Final = error("SG347", "hot spare that could take no member's place")
"""A hot spare takes the place of a failed member by itself. One that is smaller, of another
interface or medium, or in a volume without redundancy never does, and a reader who counts on it
loses the data with the next failure."""

# Supplies
INLET_UNCORDED: Final = note("SG350", "inlet without a power cord")
"""The platform takes power cords, and a power supply of the build has none. The order would
arrive without a way to connect it, unless cords are ordered apart."""
SUPPLY_OVERLOADED: Final = error("SG351", "power supplies overloaded")
"""The parts can draw more than all fitted supplies may give together. The system would switch
off under load."""
SUPPLY_MIXED: Final = error("SG352", "power supplies that must not mix")
"""Supplies that share a load must be alike, or they do not share it evenly. One of them would be
overloaded while another idles."""
SUPPLY_MISSING: Final = error("SG353", "too few power supplies")
"""The build has fewer supplies than the platform needs to run at all, or than the redundancy
that was asked for means. What the sheet says about failures would not hold."""
REDUNDANCY_LOST: Final = error("SG354", "load too high once a supply has failed")
"""The load fits all supplies together, but not the ones that remain after the failures the build
must tolerate. A single fault would then stop a system that is sold as redundant."""
LINE_VOLTAGE: Final = error("SG355", "supply not rated at the line voltage")
"""The supply is not rated for the voltage of the line it is to be plugged into, or gives less at
that voltage. What it can carry there must not be taken from its best case."""
SLOT_POWER: Final = error("SG356", "part above the power of its slot")
"""The part draws more than the position may give through its connector. It needs a cable of its
own, or another position; an overloaded contact becomes hot."""
CORD_MISMATCH: Final = error("SG357", "power cord that does not mate")
"""Connectors and inlets, plugs and outlets are standard pairs: C13 with C14, C19 with C20. What
is no pair cannot be connected, or was meant for another current."""
CORD_VOLTAGE: Final = error("SG358", "power cord not made for the line")
"""The plug or the cord is not made for the voltage of the line, or not for DC. It does not fit
the outlets of that voltage, or its insulation is not rated for it."""
INPUT_CURRENT: Final = error("SG359", "input current above a rating")
"""An inlet, a power supply, a cord, an outlet or the branch circuit would carry more current
than it is rated for, in normal operation or once power supplies have failed as the build must
tolerate. Contacts overheat, or the breaker opens and the server stops."""

# Life of parts, cabling
DISCONTINUED_PART: Final = error("SG361", "discontinued part in a published build")
"""The part can no longer be ordered, and the build is published. A reader would be offered a
system that cannot be delivered."""
REPLACED_PART: Final = note("SG362", "part with a successor")
"""The part still counts, but a successor has been named for it. The next edition of the build
may want to use that one."""
CONNECTOR_TAKEN: Final = error("SG363", "two cables on one connector")
"""Two cables end at one connector. Only one can be plugged in, and what is attached to the other
has no link."""
TRANSCEIVER_MISMATCH: Final = error("SG364", "transceiver that does not suit its cage")
"""The transceiver or cable does not suit the cage of the adapter, in form, in speed or in
medium. The port would stay dark."""
SOLDERED_REPLACED: Final = error("SG365", "part in place of a soldered one")
"""The part that the position holds is soldered in: nobody can take it out and fit another. A
sheet that promised the other part would describe a system that cannot be made."""
PLANNED_PART: Final = decided("SG366", "planned part in a published build")
"""The part cannot be ordered yet on the project's date, and the build is published. Whoever
orders from its sheet waits for a part that nobody sells. A build that is announced together with
its part may say so: `allow: [{code: SG366, reason: …}]`."""

# Rules about rules
RULE_NEVER: Final = warning("SG371", "rule whose case never arises")
"""A rule whose case no build can have checks nothing, and a reader of the platform's page is
told of a danger that is not there. Often a position was renamed, or a part taken off the list."""
RULE_CONTRADICTED: Final = warning("SG372", "rule that contradicts itself or another")
"""Where a rule's case is ruled out by another rule, or by itself, an author meant two things at
once. Nobody sees it until an order that should be possible is refused."""
RULE_REPEATS: Final = note("SG373", "rule that repeats what holds anyway")
"""Positions, needs, built-in checks or other rules enforce the same already, at least at the
conditions of the project. What is said in two places is forgotten in one of them when it
changes."""
OUT_OF_REACH: Final = warning("SG374", "part or position that rules put out of reach")
"""No build that passes the checks can use it. Pages and lists offer it all the same, and it
cannot be sold."""

# Values that are worked out, and that no system can have
VALUE_IMPOSSIBLE: Final = error("SG381", "value that no working system has")
"""A value that the program worked out cannot be: a margin is below zero, a share above all there
is, or the answer to whether it fits is no. The sheet would print it beside the promise that it
breaks."""
VALUE_DOUBTFUL: Final = warning("SG382", "value that somebody should decide about")
"""A value that the program worked out is beyond what it is checked against. The system works, but
less is to be had from it than its parts promise, or it may not be sold everywhere."""
MEASURED_OTHER_PARTS: Final = note("SG383", "measurement of other parts")
"""A measurement names the parts that it was made of, and the build has others. What was measured
then says nothing of it: its values are left out, as if nobody had measured."""

# Air, rack and floor, where they are stated
AIRFLOW_SHORT: Final = error("SG390", "fans that move less air than is needed")
"""At the load that the system can reach, the fans move less air than carries its heat away
within the temperature rise that is stated: all of them, or those left once one has failed. Parts
would be hotter than anything on the sheet says."""
RACK_TOO_SHALLOW: Final = error("SG391", "system too deep for the rack")
"""The system, with the room that its cables take or with its cable arm, is deeper than the clear
depth of the rack. The rear door would not close, or cables would be bent."""
RAILS_LENGTH: Final = error("SG392", "rails too short or too long for the rack")
"""The rail kit adjusts to a range of distances between front and rear rails of a rack, and those
of this rack lie outside it. The system could not be mounted."""
RAILS_OVERLOADED: Final = error("SG393", "system too heavy for its rails")
"""The system with everything in it weighs more than its rails are rated for. They would bend
when it is pulled out, and it could fall."""
RACK_FULL: Final = error("SG394", "more rack units than the rack has")
"""The systems planned for a rack take more rack units than it has. At least one of them would be
left over on the day it is installed."""
RACK_OVERLOADED: Final = error("SG395", "more weight than the rack carries")
"""The systems planned for a rack weigh more than it is rated to carry. It could give way or tip
over."""
FLOOR_OVERLOADED: Final = error("SG396", "more weight than the floor bears")
"""Rack and systems together press on the floor with more than it is rated to bear. Whoever
answers for the building would not let it in."""
RACK_TOO_NARROW: Final = error("SG397", "system too wide for the rack")
"""The chassis behind its front is wider than the clear width between the posts of the rack. It
could not be pushed in."""
