"""SG3xx: engineering."""

from collections.abc import Mapping
from typing import Final

ENGINEERING: Final[Mapping[str, str]] = {
    "SG301": "A position takes parts of certain kinds, and this part is of another. It could not "
    "be fitted there by anybody who holds the machine in their hands.",
    "SG302": "The processor is made for another socket than this position has. It does not go in, "
    "whatever else about it may suit.",
    "SG303": "The part is taller than the position leaves room for: a full-height card in a "
    "low-profile slot, or a module under a lid that is too near. The machine could not be closed.",
    "SG304": "The part is longer than the position leaves room for. It would meet a fan, a drive "
    "cage or the board before it is seated.",
    "SG305": "The part's edge or form does not go into the position: a wide card into a narrower "
    "connector that is closed at its end, for instance. Electrical width is another matter; a card "
    "may well run on fewer lanes than it has.",
    "SG306": "The part speaks through another interface than the position offers. It might go in, "
    "but it would not be seen by the machine.",
    "SG307": "The part and the position differ in how they may be exchanged. A reader who trusts "
    "the sheet might pull a part from a running machine that must be switched off first.",
    "SG308": "The notch, key or pattern of holes on the part differs from the one at the "
    "position. They exist to keep unlike parts apart, so it must not be forced.",
    "SG309": "The platform lists the parts that were tried in it, and this one is not among them. "
    "A sheet would promise something that nobody has tested.",
    "SG310": "The part covers more slots than its own, and none beside this one is declared as its "
    "neighbour. It would hit the wall of the chassis or a card that stands there.",
    "SG311": "The position belongs to a part that is not there: a second processor, a riser or a "
    "backplane. Without its owner nothing in the position has power or a link.",
    "SG312": "Another part takes the room or the connector of this position. Both cannot be "
    "fitted at the same time.",
    "SG313": "The part declares that it needs something else in the machine: a position filled, a "
    "resource or a condition. Nothing in this build provides it, so the part would not work.",
    "SG314": "Parts together take more of a resource than the machine has, such as ports of a "
    "controller or power connectors. At least one of them would have to stay unconnected.",
    "SG315": "The links of an owner need more lanes than it has. Some of the parts would stay "
    "without a link, or with less than the sheet says.",
    "SG316": "A root port can be divided only in certain ways, and the widths asked for are not "
    "one of them. Some of the parts behind it would not be found when the machine starts.",
    "SG317": "A link is as wide and as fast as the least along its path. The part works, but with "
    "less bandwidth than its own data promise, and a reader should know it.",
    "SG318": "The machine must not run with this position empty, since air, power or order depends "
    "on it. A filler or a part belongs there.",
    "SG319": "The drive and the controller it is wired to do not share a protocol. The drive would "
    "be powered and stay invisible.",
    "SG321": "Modules of these types cannot work beside each other, because their type, rank or "
    "width differs. The machine would not start, or would leave some of them out.",
    "SG322": "Slots are filled in the order printed in the platform's description, beginning with "
    "the ones named first. In another order the machine may not start, or may not find every "
    "module.",
    "SG323": "Channels carry different numbers or sizes of modules. It works, but some addresses "
    "are then served by fewer channels and are slower, so somebody should decide whether that is "
    "meant.",
    "SG324": "All modules run at one speed, the least that modules, their number a channel and the "
    "processor allow. The sheet states that lower speed, not the one printed on the module.",
    "SG325": "A processor does not start without a memory module of its own. Where slots belong to "
    "it and none is filled, the server does not run, whatever else it holds.",
    "SG326": "The slots stand on more memory channels than the processor has. Modules on the "
    "others are never seen, and the sheet would count them.",
    "SG331": "The processor gives off more heat, or draws more power, than this socket is designed "
    "for. The board could not supply it for long, and no cooler makes up for that.",
    "SG332": "The heat sink is rated for less power than the processor gives off. The processor "
    "would slow itself down under load, and values for its speed would not hold.",
    "SG333": "With these processors and parts the machine needs more fans than the build has. It "
    "would run too hot, or refuse to start.",
    "SG334": "Processors in one machine must be alike in the way the platform demands. Unlike ones "
    "do not start together.",
    "SG335": "The inlet temperature of the build is above what its parts, fans and altitude allow. "
    "Parts would age faster, slow down or switch off.",
    "SG336": "What sits in a socket is sold without a heat sink, and the position that would cool "
    "it is empty. It switches off within seconds.",
    "SG341": "A controller that holds writes in a cache loses them when the power fails, unless an "
    "energy pack carries it long enough to save them. Without the pack the cache must not be "
    "promised.",
    "SG342": "The controller that the drives are wired to does not offer this RAID level. The "
    "volume could not be set up, so its capacity and safety must not be stated.",
    "SG343": "Each RAID level needs a least number of drives, and some need them in equal groups. "
    "With this number the volume cannot exist.",
    "SG344": "The volume names a position that holds no drive, or one that already belongs to a "
    "volume. Its capacity would count a drive that is not there for it.",
    "SG345": "Every member of a volume counts only as much as the smallest and slowest. The rest "
    "of the larger drives is paid for and lies idle, so somebody should decide whether that is "
    "meant.",
    "SG346": "The members of the volume are wired to different controllers. A controller can join "
    "only drives of its own, so this volume cannot be set up.",
    "SG347": "A hot spare takes the place of a failed member by itself. One that is smaller, of "
    "another interface or medium, or in a volume without redundancy never does, and a reader who "
    "counts on it loses the data with the next failure.",
    "SG350": "The platform takes power cords, and a power supply of the build has none. The order "
    "would arrive without a way to connect it, unless cords are ordered apart.",
    "SG351": "The parts can draw more than all fitted supplies may give together. The machine "
    "would switch off under load.",
    "SG352": "Supplies that share a load must be alike, or they do not share it evenly. One of "
    "them would be overloaded while another idles.",
    "SG353": "The build has fewer supplies than the platform needs to run at all, or than the "
    "redundancy that was asked for means. What the sheet says about failures would not hold.",
    "SG354": "The load fits all supplies together, but not the ones that remain after the failures "
    "the build must survive. A single fault would then stop a machine that is sold as redundant.",
    "SG355": "The supply is not rated for the voltage of the line it is to be plugged into, or "
    "gives less at that voltage. What it can carry there must not be taken from its best case.",
    "SG356": "The part draws more than the position may give through its connector. It needs a "
    "cable of its own, or another position; an overloaded contact becomes hot.",
    "SG357": "Connectors and inlets, plugs and outlets are standard pairs: C13 with C14, C19 with "
    "C20. What is no pair cannot be connected, or was meant for another current.",
    "SG358": "The plug or the cord is not made for the voltage of the line, or not for DC. It does "
    "not fit the outlets of that voltage, or its insulation is not rated for it.",
    "SG359": "An inlet, a power supply, a cord, an outlet or the branch circuit would carry more "
    "current than it is rated for, in normal operation or once power supplies have failed as the "
    "build must survive. Contacts overheat, or the breaker opens and the server stops.",
    "SG361": "The part can no longer be ordered, and the build is published. A reader would be "
    "offered a machine that cannot be delivered.",
    "SG362": "The part still counts, but a successor has been named for it. The next edition of "
    "the build may want to use that one.",
    "SG363": "Two cables end at one connector. Only one can be plugged in, and what hangs on the "
    "other has no link.",
    "SG364": "The transceiver or cable does not suit the cage of the adapter, in form, in speed or "
    "in medium. The port would stay dark.",
    "SG365": "The part that the position holds is soldered in: nobody can take it out and fit "
    "another. A sheet that promised the other part would describe a machine that cannot be made.",
    "SG366": "The part cannot be ordered yet on the project's date, and the build is published. "
    "Whoever orders from its sheet waits for a part that nobody sells. A build that is announced "
    "together with its part may say so: `allow: [{code: SG366, reason: …}]`.",
    "SG371": "A rule whose case no build can have checks nothing, and a reader of the platform's "
    "page is told of a danger that is not there. Often a position was renamed, or a part taken "
    "off the list.",
    "SG372": "Where a rule's case is ruled out by another rule, or by itself, an author meant two "
    "things at once. Nobody sees it until an order that should be possible is refused.",
    "SG373": "Positions, needs, built-in checks or other rules enforce the same already, at least "
    "at the conditions of the project. What is said in two places is forgotten in one of them "
    "when it changes.",
    "SG374": "No build that passes the checks can use it. Pages and lists offer it all the same, "
    "and it cannot be sold.",
    "SG381": "A value that the program worked out cannot be: a margin is below zero, a share above "
    "all there is, or the answer to whether it fits is no. The sheet would print it beside the "
    "promise that it breaks.",
    "SG382": "A value that the program worked out is beyond what it is held against. The system "
    "works, but less is to be had from it than its parts promise, or it may not be sold "
    "everywhere.",
    "SG390": "At the load that the system can reach, the fans move less air than carries its heat "
    "away within the temperature rise that is stated: all of them, or those left once one has "
    "failed. Parts would be hotter than anything on the sheet says.",
    "SG391": "The system, with the room that its cables take or with its cable arm, is deeper than "
    "the clear depth of the rack. The rear door would not close, or cables would be bent.",
    "SG392": "The rail kit adjusts to a range of distances between front and rear rails of a rack, "
    "and those of this rack lie outside it. The system could not be mounted.",
    "SG393": "The system with everything in it weighs more than its rails are rated for. They "
    "would bend when it is pulled out, and it could fall.",
    "SG394": "The systems planned for a rack take more rack units than it has. At least one of "
    "them would be left over on the day it is installed.",
    "SG395": "The systems planned for a rack weigh more than it is rated to carry. It could give "
    "way or tip over.",
    "SG396": "Rack and systems together press on the floor with more than it is rated to bear. "
    "Whoever answers for the building would not let it in.",
    "SG397": "The chassis behind its front is wider than the clear width between the posts of the "
    "rack. It could not be pushed in.",
}
