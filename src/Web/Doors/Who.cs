namespace Whetwright.Web.Doors;

/// <summary>What somebody may do.</summary>
public enum Role
{
    /// <summary>Not signed in.</summary>
    Nobody = 0,

    /// <summary>A program with a token: the interface under /api/v1 and nothing else.</summary>
    Program = 1,

    /// <summary>Works at counter, rack and bench; sees no takings, deletes nothing, sets no prices.</summary>
    Helper = 2,

    /// <summary>Runs the shop.</summary>
    Master = 3,
}

/// <summary>Who asks.</summary>
/// <param name="Role">What they may do.</param>
/// <param name="Id">Id of the sign-in; null at the machine itself and for nobody.</param>
/// <param name="Name">Name of the device or program; null at the machine itself.</param>
public sealed record Who(Role Role, string? Id = null, string? Name = null)
{
    /// <summary>Not signed in.</summary>
    public static Who Nobody { get; } = new(Role.Nobody);

    /// <summary>The person at the machine, where the shop is served on this machine alone.</summary>
    public static Who AtTheMachine { get; } = new(Role.Master);

    /// <summary>Runs the shop.</summary>
    public bool IsMaster => Role == Role.Master;
}

/// <summary>Who asks, for the pages of one request.</summary>
public sealed class WhoView
{
    /// <summary>Who asks; nobody until the door has looked.</summary>
    public Who Now { get; internal set; } = Who.Nobody;

    /// <summary>Runs the shop: for what only the master is shown.</summary>
    public bool IsMaster => Now.IsMaster;
}
