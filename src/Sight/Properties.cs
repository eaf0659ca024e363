using System.Runtime.CompilerServices;

[assembly: InternalsVisibleTo("Whetwright.Sight.Tests")]
[assembly: InternalsVisibleTo("Whetwright.Accuracy")]
[assembly: InternalsVisibleTo("Whetwright.Outlines")]
